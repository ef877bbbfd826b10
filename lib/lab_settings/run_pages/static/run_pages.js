// What JupyterLab's settings cannot say about a page of the workbook, as an extension that needs no building:
// a run alone is nothing to save; stored pictures say that they are; and a panel that lost its kernel is greyed, takes no
// reading, and says what to press; and what the hand is on stays under it while the page around it grows.
(() => {
  const OURS = /^\s*(from|import)\s+statorbook\b/m;
  const VIEW = 'application/vnd.jupyter.widget-view+json';
  const GONE = ['restarting', 'autorestarting', 'terminating', 'dead'];
  const ASLEEP = 'statorbook-asleep', NOTICE = 'statorbook-notice';
  const STORED = 'Stored pictures of an example. Press “Run the page” before you type.';
  const LAST = 'Then look whether the last thing you typed is there.';
  const RUN = `This page is not running and takes no reading now. Press “Run the page”. ${LAST}`;
  const WAIT = `The page has lost its server and takes no reading now. If it does not come back, start the workbook again `
    + `and press “Run the page”. ${LAST}`;
  // Beside the button that it names, over the free part of the bar.
  const LOOK = `.${ASLEEP} {filter: grayscale(1); opacity: .6}
    .${NOTICE} {position: absolute; top: 0; left: 160px; right: 48px; z-index: 10; padding: 6px 16px;
      box-sizing: border-box; font-size: 14px; line-height: 1.4; background: #fff3c4; color: #000}
    .${NOTICE}[role=alert] {background: #b71c1c; color: #fff}`;
  const SOON_MS = 50;

  const cellsOf = panel => panel.content.model.sharedModel.cells;
  const written = panel => JSON.stringify(cellsOf(panel).map(cell => [cell.cell_type, cell.getSource()]));
  const isOurs = panel => cellsOf(panel).some(cell => cell.cell_type === 'code' && OURS.test(cell.getSource()));

  // Lab asks “Save your work?” after every run, because the run changed what the cells show. Only what the reader wrote
  // into the page is the reader's to save; readings are in the job.
  function asksOnlyForWords(panel) {
    const model = panel.context.model;
    let kept = written(panel);
    const look = () => {
      if (!panel.isDisposed && model.dirty && isOurs(panel) && written(panel) === kept) model.dirty = false;
    };
    model.stateChanged.connect((_, change) => {
      if (change.name !== 'dirty') return;
      if (change.newValue) queueMicrotask(look);  // after Lab's own listeners: they must see it come and go in order
      else kept = written(panel);
    });
    look();
  }

  // The views that the kernel must know, by the names that their outputs give.
  const namesOf = panel => cellsOf(panel).flatMap(cell => cell.cell_type === 'code' ? cell.getOutputs() : [])
    .map(output => output.data && output.data[VIEW] && output.data[VIEW].model_id).filter(Boolean);

  const outputsOf = cell => Array.from({length: cell.model.outputs ? cell.model.outputs.length : 0},
    (_, number) => cell.model.outputs.get(number));
  const hasStills = panel => panel.content.widgets.some(cell => outputsOf(cell).some(output => 'still' in output.metadata));

  function takesNothingInSilence(panel) {
    const session = panel.sessionContext, gone = new WeakSet();
    const outputs = () => [...panel.content.node.querySelectorAll('.jp-OutputArea-output')]
      .filter(output => output.querySelector('.jupyter-widgets') && !output.parentElement.closest('.jupyter-widgets'));
    const notice = document.createElement('div');
    notice.className = NOTICE;
    let away = false, soon = null;

    const show = () => {
      soon = null;
      if (panel.isDisposed) return;
      let asleep = 0;
      for (const output of outputs()) {
        const sleeps = away || gone.has(output) || Boolean(output.querySelector('.jupyter-widgets-disconnected'));
        if (output.inert !== sleeps) output.inert = sleeps;
        output.classList.toggle(ASLEEP, sleeps);
        asleep += sleeps;
      }
      say(asleep ? (away ? WAIT : RUN) : hasStills(panel) ? STORED : '', asleep ? 'alert' : 'status');
    };
    const say = (words, role) => {
      if (!words) notice.remove();
      else if (notice.textContent !== words || !notice.isConnected) {
        notice.setAttribute('role', role);
        notice.textContent = words;
        panel.node.append(notice);
      }
    };
    const showSoon = () => { soon = soon || setTimeout(show, SOON_MS); };
    const lose = () => { if (isOurs(panel)) { outputs().forEach(output => gone.add(output)); show(); } };

    // Back on the line: the kernel may be the one that knows these panels, or another one.
    const back = async () => {
      if (!away) return;
      const kernel = session.session && session.session.kernel, names = namesOf(panel);
      const reply = kernel && await kernel.requestCommInfo({target_name: 'jupyter.widget'}).catch(() => null);
      const known = reply && reply.content.comms || {};
      away = false;
      names.every(name => name in known) ? show() : lose();
    };

    session.statusChanged.connect((_, status) => { if (GONE.includes(status)) lose(); });
    session.kernelChanged.connect((_, change) => { if (change.oldValue) lose(); });
    session.connectionStatusChanged.connect((_, status) => {
      if (status === 'connected') back();
      else if (isOurs(panel) && outputs().some(output => !gone.has(output))) { away = true; show(); }
    });
    const watch = new MutationObserver(() => { if (isOurs(panel)) showSoon(); });
    watch.observe(panel.content.node, {subtree: true, childList: true});
    panel.disposed.connect(() => { watch.disconnect(); clearTimeout(soon); });
    if (isOurs(panel)) show();
  }

  // Lab ends a run at the last cell and shows it, and a page without its outputs is short: both throw the reader off.
  const RUN_ALL = ['notebook:run-all-cells', 'notebook:restart-run-all'];
  const SETTLES_MS = 2000, ACTS = ['wheel', 'touchstart', 'pointerdown', 'keydown'];
  const boxOf = panel => panel.node.querySelector('.jp-WindowedPanel-outer') || panel.content.node;
  const topIn = (box, cell) => cell.node.getBoundingClientRect().top - box.getBoundingClientRect().top;

  function staysWhereTheReaderIs(app, before) {
    app.commands.commandExecuted.connect((_, command) => {
      const panel = app.shell.currentWidget;
      if (!RUN_ALL.includes(command.id) || !panel || !before.has(panel) || !isOurs(panel)) return;
      const {active, seen, top} = before.get(panel), notebook = panel.content, box = boxOf(panel);
      const stay = () => { if (!panel.isDisposed && seen) box.scrollTop += topIn(box, seen) - top; };
      notebook.activeCellIndex = active;
      stay();
      const grows = new ResizeObserver(stay);
      notebook.widgets.forEach(cell => grows.observe(cell.node));
      box.addEventListener('scroll', stay);
      const letGo = () => {
        grows.disconnect();
        for (const listen of [stay, scrolled]) box.removeEventListener('scroll', listen);
        ACTS.forEach(act => document.removeEventListener(act, letGo, true));
      };
      ACTS.forEach(act => document.addEventListener(act, letGo, true));  // from now on the reader decides
      // After the run a scroll is the reader's, unless the page is still too short for the place.
      const scrolled = () => {
        const short = box.scrollTop + box.clientHeight > box.scrollHeight - 2;
        if (!panel.isDisposed && seen && !short && Math.abs(topIn(box, seen) - top) > 1) letGo();
      };
      command.result.catch(() => {}).then(() => {
        box.removeEventListener('scroll', stay);
        box.addEventListener('scroll', scrolled);
        setTimeout(letGo, SETTLES_MS);
      });
    });
  }

  // Where the reader was when the mouse or a key went down, before Lab moved anything.
  function rememberPlaces(app, before) {
    const remember = event => {
      const panel = app.shell.currentWidget, notebook = panel && panel.content;
      // A run starts from the bar or a menu: what is typed into the page costs nothing.
      if (!notebook || !notebook.widgets || notebook.node.contains(event.target)) return;
      const box = boxOf(panel);
      const seen = notebook.widgets.find(cell => cell.node.getBoundingClientRect().height + topIn(box, cell) > 0);
      before.set(panel, {active: notebook.activeCellIndex, seen, top: seen && topIn(box, seen)});
    };
    for (const event of ['pointerdown', 'keydown']) document.addEventListener(event, remember, true);
  }

  // What a press changes may grow or shrink beside the hand: what was pressed or typed into stays where it is on the
  // screen while the answer comes, until the reader does something else.
  const HAND = '.jp-OutputArea-output .jupyter-widgets :is(button, summary, input, textarea, select, label, .noUi-target)';
  const LED_BY = ['pointerdown', 'keydown', 'input'], HELD_MS = 5000, MOST_PX = 1, TRIES = 3;

  function staysUnderTheHand(app) {
    let held = null;
    const letGo = () => {
      if (!held) return;
      held.grows.disconnect();
      clearTimeout(held.ends);
      held = null;
    };
    const moved = () => held.control.getBoundingClientRect().top - held.top;
    // A control that was put away, or that somebody scrolled out of sight, is left.
    const seen = () => {
      const {top, bottom} = held.control.getBoundingClientRect(), view = held.box.getBoundingClientRect();
      return bottom > top && bottom > view.top && top < view.bottom;
    };
    const stay = () => {
      if (Math.abs(moved()) <= MOST_PX) return;
      if (!seen()) return letGo();
      for (let time = 0; time < TRIES && Math.abs(moved()) > MOST_PX; time += 1) held.box.scrollTop += moved();
      // A column that stands still while the page passes by does not come back with it: then the page shall not move.
      if (Math.abs(moved()) > MOST_PX) held.box.scrollTop = held.scrolled;
    };

    const grasp = control => {
      letGo();
      const panel = app.shell.currentWidget, notebook = panel && panel.content;
      if (!control || !notebook || !notebook.widgets || !notebook.node.contains(control) || !isOurs(panel)) return;
      const grows = new ResizeObserver(stay);
      held = {control, box: boxOf(panel), grows};
      notebook.widgets.forEach(cell => grows.observe(cell.node));
      for (let node = control.parentElement; !node.matches('.jp-Cell'); node = node.parentElement) grows.observe(node);
    };
    const hold = control => {
      if (!held || held.control !== control) grasp(control);
      if (!held) return;
      clearTimeout(held.ends);
      const {top} = control.getBoundingClientRect();
      Object.assign(held, {top, scrolled: held.box.scrollTop, ends: setTimeout(letGo, HELD_MS)});
    };
    // Keys that scroll the page lead away.
    const leads = (event, control) => event.type === 'keydown' && control && (/^Page/.test(event.key)
      || control.matches('button, summary') && !['Enter', ' '].includes(event.key));
    const controlOf = event => event.target.closest ? event.target.closest(HAND) : null;
    const act = event => {
      const control = controlOf(event);
      hold(leads(event, control) ? null : control);
    };
    LED_BY.forEach(type => document.addEventListener(type, act, true));
    document.addEventListener('wheel', letGo, {capture: true, passive: true});
    document.addEventListener('touchmove', letGo, {capture: true, passive: true});
    // Where the keyboard has gone, once the browser has brought it into sight.
    document.addEventListener('focusin', event => {
      const control = controlOf(event);
      if (control && !(held && held.control === control)) {
        letGo();
        requestAnimationFrame(() => { if (document.activeElement === event.target) hold(control); });
      }
    }, true);
  }

  // The scripts of our controls (anywidget) are given up after two seconds, which a small computer at work on a page does
  // not keep: the log would lose its keys and the grouping its slider.
  const GIVEN_UP_MS = 2000, PATIENT_MS = 60000, timeout = AbortSignal.timeout.bind(AbortSignal);
  AbortSignal.timeout = ms => timeout(ms === GIVEN_UP_MS ? PATIENT_MS : ms);

  const plugin = {
    id: 'statorbook:run-pages',
    description: 'A page that was only run asks nothing, a lost kernel takes no reading, the hand keeps its place.',
    autoStart: true,
    activate: app => {
      const seen = new WeakSet();
      const adopt = () => {
        for (const panel of app.shell.widgets('main')) {
          if (seen.has(panel) || !panel.context || !panel.sessionContext || !panel.content) continue;
          seen.add(panel);
          panel.context.ready.then(() => {
            if (panel.isDisposed || !panel.content.model || !panel.content.model.sharedModel.cells) return;
            asksOnlyForWords(panel);
            takesNothingInSilence(panel);
          });
        }
      };
      const look = document.createElement('style');
      look.textContent = LOOK;
      document.head.append(look);
      const before = new WeakMap();
      rememberPlaces(app, before);
      staysWhereTheReaderIs(app, before);
      staysUnderTheHand(app);
      app.shell.layoutModified.connect(adopt);
      app.restored.then(adopt);
    },
  };

  // The shape in which JupyterLab takes a ready-made extension.
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB.statorbook = {init: () => {}, get: async () => () => ({__esModule: true, default: plugin})};
})();
