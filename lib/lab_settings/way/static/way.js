// Finding one's way through the pages, as an extension of JupyterLab that needs no building: the side bar lists all pages
// with their state, the top line says which job is open, and a page that was run for another one says so.
(() => {
  const HERE = document.currentScript.src;
  const NARROW_PX = 1100, AT_MOST_EVERY_MS = 1000, START = '00_start_here';
  const LIST = 'statorbook-list', JOB = 'statorbook-job';
  const OPENS_A_JOB = /\bopen_current\(/, FOLLOWS_THE_JOB = /\bStartPanel\(/;

  // The classes of Lab itself, from where it keeps what its extensions share.
  let scope = {};
  const shared = async name => (await Object.values(scope[name])[0].get())();

  function node(tag, properties = {}, ...children) {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...children);
    return made;
  }

  const isPage = panel => Boolean(panel && panel.context && panel.sessionContext && panel.content && panel.content.widgets);
  const pagesOf = app => [...app.shell.widgets('main')].filter(isPage);

  // What the server reads from the disk: the open job and the pages. Asked seldom, told to all who listen.
  function newsOf(app) {
    const {baseUrl, token} = app.serviceManager.serverSettings, listeners = [];
    let now = null, soon = null, last = 0;
    const ask = async () => {
      const headers = token ? {Authorization: `token ${token}`} : {};
      const reply = await fetch(`${baseUrl}statorbook/pages`, {headers, cache: 'no-store'}).catch(() => null);
      if (reply && reply.ok) now = await reply.json();
      return now;
    };
    const tell = async () => {
      soon = null;
      last = Date.now();
      if (await ask()) listeners.forEach(listen => listen(now));
    };
    const freshen = () => { soon = soon || setTimeout(tell, Math.max(50, last + AT_MOST_EVERY_MS - Date.now())); };
    return {ask, freshen, listen: listener => listeners.push(listener)};
  }

  // Headings below the title; what is behind a fold comes with its fold.
  function headingsOf(panel) {
    return panel.content.widgets.flatMap((cell, number) => cell.model.type !== 'markdown' || cell.isHidden ? [] :
      [...cell.model.sharedModel.getSource().matchAll(/^##+ (.+)$/gm)].map(found => ({words: found[1].replace(/[*_`]/g, ''), number})));
  }

  function showHeading(panel, number) {
    const cell = panel.content.widgets[number];
    panel.content.activeCellIndex = number;
    cell.node.scrollIntoView({block: 'start'});
    cell.node.focus();
  }

  function contentsOf(panel) {
    return node('ul', {}, ...headingsOf(panel).map(({words, number}) => {
      const link = node('a', {href: '#', textContent: words});
      link.addEventListener('click', event => { event.preventDefault(); showHeading(panel, number); });
      return node('li', {}, link);
    }));
  }

  function lineOf(app, page, panel) {
    const link = node('a', {href: `${app.serviceManager.serverSettings.baseUrl}lab/tree/${page.path}`},
      node('span', {className: 'statorbook-number', textContent: page.number}),
      node('span', {className: 'statorbook-title', textContent: page.title}));
    if (page.state) {
      const state = node('span', {className: 'statorbook-state'}, node('b', {textContent: page.state}),
        page.why ? `: ${page.why}` : '');
      state.dataset.state = page.state;
      link.append(state);
    }
    if (panel) link.setAttribute('aria-current', 'page');
    link.addEventListener('click', event => {
      event.preventDefault();
      app.commands.execute('docmanager:open', {path: page.path});
    });
    return node('li', {}, link, ...panel ? [contentsOf(panel)] : []);
  }

  // Which page or heading a link leads to, however the list is drawn.
  const nameOf = link => link.getAttribute('href') === '#' ? link.textContent : link.getAttribute('href');

  // The side bar: drawn again only where something changed, so that a key or a finger on it is not lost.
  function listPages(app, news, Widget) {
    const list = new Widget({node: node('nav', {className: LIST})});
    list.id = LIST;
    list.node.setAttribute('aria-label', 'Pages of the workbook');
    list.title.label = 'Pages';
    list.title.caption = 'Pages of the workbook';
    app.shell.add(list, 'left', {rank: 1});
    let now = null, drawn = '';
    const draw = () => {
      const panel = app.shell.currentWidget, open = isPage(panel) ? panel : null;
      const path = open && open.context.path;
      const sign = now && JSON.stringify([now, path, open && open.content.model ? headingsOf(open) : []]);
      if (!now || sign === drawn) return;
      drawn = sign;
      const held = list.node.contains(document.activeElement) && nameOf(document.activeElement);
      list.node.replaceChildren(node('h2', {textContent: 'Pages'}),
        ...now.trouble ? [node('p', {textContent: now.trouble})] : [], node('ol', {},
        ...now.pages.map(page => lineOf(app, page, page.path === path ? open : null))));
      if (held) ([...list.node.querySelectorAll('a')].find(link => nameOf(link) === held) || list.node).focus();
    };
    news.listen(heard => { now = heard; draw(); });
    app.shell.currentChanged.connect(draw);
    app.restored.then(() => setTimeout(() => {
      const shut = app.shell.leftCollapsed || innerWidth < NARROW_PX;
      app.shell.activateById(list.id);
      if (app.shell.isEmpty('right')) app.shell.collapseRight();
      if (shut) app.shell.collapseLeft();
    }));
  }

  // The top line: the job that every page will be run for from now on.
  function sayJob(app, news, Widget) {
    const button = node('button', {className: 'statorbook-job-button'});
    const line = new Widget({node: node('div', {className: JOB}, button)});
    line.id = JOB;
    app.shell.add(line, 'top', {rank: 1000});
    let start = '';
    button.addEventListener('click', () => app.commands.execute('docmanager:open', {path: start}));
    news.listen(now => {
      const page = now.pages.find(each => each.path.includes(START));
      start = page ? page.path : '';
      button.replaceChildren('Job: ', node('b', {textContent: now.job || 'none open'}),
        node('span', {textContent: now.units && ` · ${now.units}`}));
      button.title = `${now.job}. ${now.trouble || 'Change job or units on the start page.'}`;
      button.disabled = !start;
      line.node.classList.toggle('statorbook-troubled', Boolean(now.trouble));
    });
  }

  // What was printed and drawn for one job must not pass for another one's; the start page follows the job itself.
  function sayOtherJob(app, news) {
    const ran = new WeakMap(), notices = new WeakMap();
    const look = now => {
      for (const panel of pagesOf(app)) {
        const before = ran.get(panel);
        const other = before && (before.units !== now.units || !before.follows && before.job !== now.job);
        const notice = notices.get(panel) || node('div', {className: 'statorbook-notice statorbook-other'});
        notices.set(panel, notice);
        const words = other && `This page was run for ${before.job} · ${before.units}. Press “Run the page”.`;
        if (!other) notice.remove();
        else if (notice.textContent !== words || !notice.isConnected) {
          notice.setAttribute('role', 'status');
          notice.textContent = words;
          panel.node.append(notice);
        }
      }
    };
    news.listen(look);
    return async (panel, follows) => {
      const now = await news.ask();
      if (!now) return;
      now.job ? ran.set(panel, {...now, follows}) : ran.delete(panel);
      look(now);
    };
  }

  // When the list may be out of date: a kernel has done something, another page or another window is in front.
  function watch(app, news, hasRun) {
    const seen = new WeakSet();
    const adopt = () => {
      news.freshen();
      for (const panel of pagesOf(app)) {
        if (seen.has(panel)) continue;
        seen.add(panel);
        panel.sessionContext.statusChanged.connect((_, status) => { if (status === 'idle') news.freshen(); });
        panel.sessionContext.iopubMessage.connect((_, message) => {
          const code = message.header.msg_type === 'execute_input' ? message.content.code : '';
          const follows = FOLLOWS_THE_JOB.test(code);
          if (follows || OPENS_A_JOB.test(code)) hasRun(panel, follows);
        });
        panel.context.ready.then(() => news.freshen());
      }
    };
    app.shell.layoutModified.connect(adopt);
    app.shell.currentChanged.connect(adopt);
    for (const [target, name] of [[window, 'focus'], [document, 'visibilitychange']]) {
      target.addEventListener(name, news.freshen);
    }
    app.restored.then(adopt);
  }

  const plugin = Widget => ({
    id: 'statorbook-way:pages',
    description: 'The pages with their states in the side bar, the open job in the top line.',
    autoStart: true,
    activate: app => {
      document.head.append(node('link', {rel: 'stylesheet', href: new URL('look.css', HERE)}));
      const news = newsOf(app);
      listPages(app, news, Widget);
      sayJob(app, news, Widget);
      watch(app, news, sayOtherJob(app, news));
    },
  });

  // The shape in which JupyterLab takes a ready-made extension.
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['statorbook-way'] = {
    init: given => { scope = given; },
    get: async () => {
      const {Widget} = await shared('@lumino/widgets');
      return () => ({__esModule: true, default: plugin(Widget)});
    },
  };
})();
