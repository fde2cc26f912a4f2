/** Style sheets that the first screen does not wait for. */

/** Resolves once the style sheet is laid on, so that a page is never seen bare. */
export function styled(name: string): Promise<unknown> {
  const href = `/parts/${name}.css`;
  if (document.querySelector(`link[href="${href}"]`)) return Promise.resolve();
  const link = document.createElement('link');
  link.rel = 'stylesheet';
  link.href = href;
  const here = new Promise((done, fail) => {
    link.onload = done;
    link.onerror = fail;
  });
  document.head.append(link);
  return here;
}
