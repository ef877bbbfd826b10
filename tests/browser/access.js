// What the tests of access ask of the page: of our own texts and outputs only, never of Lab around them.
(() => {
  const access = window.access = {};
  const OURS = '.jp-MarkdownCell .jp-RenderedMarkdown, .jp-OutputArea-output';
  const notebook = () => watch.panel().node;
  const own = () => [...notebook().querySelectorAll(OURS)];
  const those = parts => parts ? parts.flatMap(part => [...document.querySelectorAll(part)]) : own();
  const seen = node => node.getClientRects().length > 0 && getComputedStyle(node).visibility !== 'hidden';

  access.violations = async parts => {
    const found = await axe.run({include: those(parts)}, {resultTypes: ['violations']});
    return found.violations.filter(rule => ['serious', 'critical'].includes(rule.impact))
      .flatMap(rule => rule.nodes.map(node => [rule.id, node.html.slice(0, 160), node.target[0]]));
  };

  // Red, green, blue (0 to 255) and opacity; the browser is asked, so that any way to write a colour is understood.
  const pen = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
  const colour = text => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = text;
    pen.fillRect(0, 0, 1, 1);
    const [red, green, blue, opacity] = pen.getImageData(0, 0, 1, 1).data;
    return [red, green, blue, opacity / 255];
  };
  const over = (top, below) => [0, 1, 2].map(i => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
  const ground = node => {
    const layers = [];
    for (let each = node; each; each = each.parentElement) {
      const layer = colour(getComputedStyle(each).backgroundColor);
      if (layer[3] > 0) layers.push(layer);
      if (layer[3] === 1) break;
    }
    return layers.reduceRight((below, top) => over(top, below), [255, 255, 255, 1]);
  };
  const luminance = shade => {
    const [red, green, blue] = shade.map(part => part / 255)
      .map(part => part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrast = (one, other) => {
    const [high, low] = [luminance(one), luminance(other)].sort((a, b) => b - a);
    return (high + 0.05) / (low + 0.05);
  };
  access.ratio = (one, other) => contrast(colour(one), colour(other));
  const opacity = node => {
    let all = 1;
    for (let each = node; each; each = each.parentElement) all *= Number(getComputedStyle(each).opacity);
    return all;
  };
  // A figure or drawing lies on its own white sheet; a letter on a filled sign of it has that sign as its ground.
  const sheet = (text, svg) => {
    const at = text.getBoundingClientRect(), x = at.x + at.width / 2, y = at.y + at.height / 2;
    for (let sign = text.previousElementSibling; sign; sign = sign.previousElementSibling) {
      const box = sign.getBoundingClientRect();
      const filled = sign.matches('circle, rect') && getComputedStyle(sign).fill !== 'none';
      if (filled && x > box.left && x < box.right && y > box.top && y < box.bottom)
        return over(colour(getComputedStyle(sign).fill), [255, 255, 255, 1]);
    }
    return svg.querySelector('rect[fill="white"], [id*="patch_1"]') ? [255, 255, 255, 1] : ground(svg);
  };

  access.faint = (least, parts) => {
    const found = [];
    const weigh = (words, text, below, node) => {
      const ratio = contrast(over([...text.slice(0, 3), text[3] * opacity(node)], below), below);
      if (ratio < least) found.push([words, ratio]);
    };
    for (const area of those(parts)) {
      const walk = document.createTreeWalker(area, NodeFilter.SHOW_TEXT);
      for (let text; (text = walk.nextNode());) {
        const node = text.parentElement, words = text.textContent.trim();
        // What is switched off may be faint (success criterion 1.4.3); formulas are Lab's own fonts in the page's ink.
        if (!words || !seen(node) || node.closest('style, script, :disabled, mjx-container')) continue;
        const svg = node.closest('svg'), style = getComputedStyle(node);
        weigh(words.slice(0, 60), colour(svg ? style.fill : style.color), svg ? sheet(node, svg) : ground(node), node);
      }
      // Matplotlib draws glyphs as shapes: a text is a group, its colour the fill of the groups inside it.
      for (const group of area.querySelectorAll('svg g[id*="-text_"]')) {
        const inner = group.querySelector('use, path'), words = group.id.replace(/^.*?-text/, 'text');
        if (inner && seen(group)) weigh(words, colour(getComputedStyle(inner).fill), [255, 255, 255, 1], inner);
      }
    }
    return found;
  };

  access.sideways = () => {
    const box = watch.scroller(), root = document.documentElement;
    const moves = box.scrollWidth > box.clientWidth + 1 || root.scrollWidth > innerWidth;
    // Only a log's grid and a box that says what it holds may scroll, each inside itself.
    const inside = own().flatMap(area => [area, ...area.querySelectorAll('*')]).filter(node => seen(node)
      && node.scrollWidth > node.clientWidth + 1 && ['auto', 'scroll'].includes(getComputedStyle(node).overflowX)
      && !node.matches('textarea, .widget-gridbox, [role="region"]'));
    return [...(moves ? ['the page'] : []), ...inside.map(node => node.innerText.slice(0, 60))];
  };

  // The height of one em of every text in a figure, as it stands in the page.
  access.small = least => own().flatMap(area => [...area.querySelectorAll('svg')]).filter(seen).flatMap(svg => {
    // The bench drawing has a zoom for its small letters.
    if (svg.closest('[role="region"]')) return [];
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    const typed = [...svg.querySelectorAll('text')].map(text => [parseFloat(getComputedStyle(text).fontSize), text]);
    // Matplotlib keeps its glyphs for a text of 100 units: scale(0.115) makes 11.5 pt of them.
    const drawn = [...svg.querySelectorAll('g[id*="-text_"] g[transform*="scale("]')].map(group => [
      100 * parseFloat(group.getAttribute('transform').match(/scale\(([\d.]+)/)[1]), group]);
    return [...typed, ...drawn].filter(([size]) => size * scale < least - 0.01)
      .map(([size, node]) => [Math.round(100 * size * scale) / 100, node.textContent.trim() || node.parentElement.id]);
  });

  // From the top of the page to its end, whatever the kind of control.
  access.order = ids => ids.map(id => document.querySelector(`[data-control="${id}"]`))
    .sort((one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1)
    .map(node => Number(node.dataset.control));

  access.focus = () => {
    const node = document.activeElement, style = getComputedStyle(node);
    return {control: Number(node.dataset.control) || null, words: node.title || node.className,
            outline_px: style.outlineStyle === 'none' ? 0 : parseFloat(style.outlineWidth)};
  };

  access.wordless = () => own().flatMap(area => [...area.querySelectorAll('svg, img')]).filter(seen)
    .filter(node => node.getBoundingClientRect().height > 40)
    .filter(node => !(node.getAttribute('aria-label') || node.getAttribute('alt') || '').trim())
    .map(node => node.outerHTML.slice(0, 80));
})();
