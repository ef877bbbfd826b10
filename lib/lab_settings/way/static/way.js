// Finding one's way through the pages, as an extension of JupyterLab that needs no building.
(() => {
  const HERE = document.currentScript.src;

  const plugin = {
    id: 'statorbook-way:look',
    description: 'The look of a page’s caution and of its ways on.',
    autoStart: true,
    activate: () => {
      const look = document.createElement('link');
      look.rel = 'stylesheet';
      look.href = new URL('look.css', HERE);
      document.head.append(look);
    },
  };

  // The shape in which JupyterLab takes a ready-made extension.
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['statorbook-way'] = {init: () => {}, get: async () => () => ({__esModule: true, default: [plugin]})};
})();
