/** Style sheets that are not needed for the first screen. */

/** Resolves once the style sheet is applied, so that a page is never shown without it. */
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
