// What the tests ask of the page: is it quiet, what went wrong, which controls are there, when was a change painted.
(() => {
  if (window.watch) return;
  const watch = window.watch = {errors: [], waiting: new Map(), began: new Map(), kernel_ms: 0};
  const frame = () => new Promise(done => requestAnimationFrame(done));
  const moment = () => new Promise(done => setTimeout(done, 16));
  const ANSWERED = ['comm_msg', 'comm_open', 'execute_request'];
  const CONTROLS = {
    text: '.widget-text input', area: '.widget-textarea textarea', choice: '.widget-dropdown select',
    slider: '.widget-slider .noUi-handle, .statorbook-stops input', tick: '.widget-checkbox input',
    button: 'button.jupyter-button:not(.statorbook-unfolds)', fold: '.statorbook-fold summary, .statorbook-unfolds'};

  watch.panel = () => window.jupyterapp.shell.currentWidget;
  watch.scroller = () => watch.panel().node.querySelector('.jp-WindowedPanel-outer');

  // The first cell in sight, and where a cell's top stands in the view [px].
  watch.topOf = number => Math.round(watch.panel().content.widgets[number].node.getBoundingClientRect().top
    - watch.scroller().getBoundingClientRect().top);
  watch.place = () => {
    const cells = watch.panel().content.widgets;
    const seen = cells.findIndex((cell, number) => watch.topOf(number) + cell.node.getBoundingClientRect().height > 0);
    return [seen, watch.topOf(seen)];
  };

  // Where the first panel in sight would stand on the screen if the page were at its top [px]; null without one.
  watch.firstPanel = () => {
    const panels = [...watch.panel().content.node.querySelectorAll('.jp-OutputArea-output .jupyter-widgets')];
    const first = panels.find(panel => panel.getClientRects().length);
    return first ? first.getBoundingClientRect().top + watch.scroller().scrollTop : null;
  };

  watch.ready = () => {
    const panel = watch.panel();
    const session = panel && panel.context && panel.context.isReady && panel.content.model && panel.sessionContext.isReady
      && panel.sessionContext.session;
    return Boolean(session && session.kernel && session.kernel.status === 'idle');
  };

  // Every request to the kernel is kept until the kernel says that it is done with it.
  watch.listen = () => {
    watch.errors = [];
    watch.waiting.clear();
    watch.panel().sessionContext.session.kernel.anyMessage.connect((_, {msg, direction}) => {
      const kind = msg.header.msg_type, parent = msg.parent_header && msg.parent_header.msg_id;
      if (direction === 'send' && ANSWERED.includes(kind)) watch.waiting.set(msg.header.msg_id, kind);
      if (direction !== 'recv') return;
      if (kind === 'status' && msg.content.execution_state === 'busy') watch.began.set(parent, new Date(msg.header.date));
      if (kind === 'status' && msg.content.execution_state === 'idle') {
        if (watch.waiting.delete(parent)) watch.kernel_ms += new Date(msg.header.date) - watch.began.get(parent);
      }
      if (kind === 'error') watch.errors.push(`${msg.content.ename}: ${msg.content.evalue}`);
      // Before ipywidgets is imported the kernel does not know the page's question for widgets; that means nothing.
      if (kind === 'stream' && msg.content.name === 'stderr' && !msg.content.text.startsWith('No such comm'))
        watch.errors.push(`stderr: ${msg.content.text.trim().split('\n').pop()}`);
    });
  };

  // Open or close the headings that the page folded when it was opened.
  watch.fold = closed => {
    const panel = watch.panel();
    panel.foldedAtFirst = panel.foldedAtFirst || panel.content.widgets.filter(cell => cell.headingCollapsed);
    for (const cell of panel.foldedAtFirst) cell.headingCollapsed = closed;
  };

  watch.running = () => [...watch.panel().node.querySelectorAll('.jp-InputArea-prompt')]
    .some(prompt => prompt.textContent.includes('*'));
  // Widgets that the kernel named and the page has not made yet; in a box an empty node without a name keeps their place.
  const UNMADE = '.jupyter-widgets > .lm-Widget:not(.jupyter-widgets):empty:not([style*="none"])';
  watch.loading = () => Boolean(watch.panel().content.node.querySelector(UNMADE))
    || [...watch.panel().node.querySelectorAll('.jp-OutputArea-output')]
      .some(output => output.textContent.includes('Loading widget'));

  // A panel that has more to say once its controls rest, or to have others shown anew.
  watch.busy = () => Boolean(watch.panel().node.querySelector(
    '.statorbook-sentence [aria-busy=true], .statorbook-awaiting'));

  // Nothing is waited for, and nothing in the page has changed for a while.
  watch.quiet = async (still, most) => {
    const end = performance.now() + most;
    let last = watch.changed = performance.now();
    const observer = new MutationObserver(() => { last = watch.changed = performance.now(); });
    observer.observe(watch.panel().content.node, {subtree: true, childList: true, characterData: true});
    try {
      for (;;) {
        await moment();  // to ask for a frame each time would have the browser paint while the kernel works
        const busy = watch.waiting.size || watch.running() || watch.loading() || watch.busy();
        if (busy) last = performance.now();
        if (!busy && performance.now() - last >= still) return await frame(), true;
        if (performance.now() > end) return false;
      }
    } finally { observer.disconnect(); }
  };

  // The outputs of one cell as they stand in the page, in the order of its model.
  watch.outputs = number => [...watch.panel().content.widgets[number].node
    .querySelectorAll('.jp-OutputArea > .jp-OutputArea-child > .jp-OutputArea-output')]
    .filter(output => !output.parentElement.closest('.jupyter-widgets'));

  // Open every box of an output that scrolls downwards; how many pixels those that scroll sideways still lack.
  watch.unroll = output => {
    const boxes = [...output.querySelectorAll('*')].filter(node => !node.matches('textarea, select, input, svg, svg *')
      && ['auto', 'scroll'].includes(getComputedStyle(node).overflowX));
    for (const box of boxes) {
      if (box.scrollHeight <= box.clientHeight) continue;
      for (let node = box; node !== output; node = node.parentElement)
        Object.assign(node.style, {height: 'auto', maxHeight: 'none'});
    }
    return Math.max(0, ...boxes.map(box => box.scrollWidth - box.clientWidth));
  };

  // What an output shows, as text: with what stands in its fields, which the markup does not tell.
  watch.markup = output => [output.outerHTML, ...[...output.querySelectorAll('input, select, textarea')]
    .map(field => field.type === 'checkbox' ? field.checked : field.value)].join('\n');

  const seen = node => node.getClientRects().length > 0;
  const named = node => {
    const widget = node.closest('.jupyter-widgets'), label = widget && widget.querySelector('.widget-label');
    if (node.matches('button, summary')) return node.textContent.trim();
    const words = label && label.textContent.trim() || widget && widget.textContent.trim() && node.type === 'checkbox'
      && widget.textContent.trim();
    return words || node.getAttribute('aria-label') || node.title || node.placeholder || '';
  };
  let count = 0;
  watch.controls = () => {
    const found = [];
    watch.panel().content.widgets.forEach((cell, number) => {
      for (const [kind, selector] of Object.entries(CONTROLS)) {
        for (const node of cell.node.querySelectorAll(`.jp-OutputArea-output ${selector}`)) {
          if (!seen(node)) continue;
          if (!node.dataset.control) node.dataset.control = ++count;
          found.push({id: Number(node.dataset.control), kind, label: named(node), cell: number,
                      disabled: Boolean(node.disabled || node.closest('[disabled]')),
                      log: Boolean(node.closest('.widget-gridbox'))});
        }
      }
    });
    return found.sort((a, b) => a.cell - b.cell || a.id - b.id);
  };
  watch.control = id => {
    const node = document.querySelector(`[data-control="${id}"]`);
    return node && seen(node) ? node : null;
  };
  watch.at = id => {
    const node = watch.control(id);
    return [watch.scroller().scrollTop, node ? node.getBoundingClientRect().top : null];
  };

  // From a key press to the painted change inside `box`; each frame in between is looked at.
  watch.arm = box => {
    const state = watch.timing = {pressed: null, painted: null, frames: 0, blank: 0, tops: [], on: true,
      kernel_ms: watch.kernel_ms};
    const next = document.querySelector(`[data-control="${box.control}"]`).closest('.jp-Cell').nextElementSibling;
    const nodes = () => [...watch.panel().node.querySelectorAll(box.selector)]
      .filter(node => node.closest('.jp-Cell').nextElementSibling === next);
    document.addEventListener('keydown', event => { state.pressed = event.timeStamp; }, {capture: true, once: true});
    const observer = new MutationObserver(changes => {
      if (state.pressed === null || state.painted !== null || state.asked) return;
      if (!changes.some(change => nodes().some(node => node.contains(change.target)))) return;
      state.asked = true;
      requestAnimationFrame(() => {
        const channel = new MessageChannel();
        channel.port1.onmessage = () => { state.painted = performance.now(); };
        channel.port2.postMessage(0);
      });
    });
    // A picture in which nothing moved has at least other words for the blind.
    observer.observe(watch.panel().content.node,
      {subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: ['aria-label']});
    const look = () => {
      if (!state.on) return observer.disconnect();
      const full = nodes().some(node => box.text ? node.textContent.trim() : [...node.querySelectorAll('svg')]
        .some(svg => svg.children.length && svg.getBoundingClientRect().height > 40));
      state.frames += 1;
      state.blank += full ? 0 : 1;
      if (next) state.tops.push(next.getBoundingClientRect().top);
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  };
  watch.timed = async most => {
    const state = watch.timing, end = performance.now() + most;
    while (state.painted === null && performance.now() < end) await frame();
    await watch.quiet(60, most);
    state.on = false;
    const jump = state.tops.length ? Math.max(...state.tops) - Math.min(...state.tops) : 0;
    return {ms: state.painted === null ? null : state.painted - state.pressed, frames: state.frames,
            blank: state.blank, jump, kernel_ms: watch.kernel_ms - state.kernel_ms};
  };
})();
