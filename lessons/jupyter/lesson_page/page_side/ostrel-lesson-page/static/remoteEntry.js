// What JupyterLab loads, a plain script; see package.json. Without `__esModule` JupyterLab stops with a blank page.
{
  const folder = document.currentScript.src;
  import(new URL("warm.js", folder).href).then(({ warm }) => warm()).catch(() => {});
  const plugin = import(new URL("plugin.js", folder).href);
  (window._JUPYTERLAB ??= {})["ostrel-lesson-page"] = {
    init() {},
    async get() {
      const { default: loaded } = await plugin;
      return () => ({ __esModule: true, default: loaded });
    },
  };
}
