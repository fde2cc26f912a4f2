/** Puts generated text between markers of a hand-written page, and leaves the rest alone. Pure. */

const MARK = /<!-- generated: ([a-z-]+) -->\n[\s\S]*?<!-- end of \1 -->/g;

/**
 * @param page Markdown with places `<!-- generated: NAME -->` … `<!-- end of NAME -->`
 * @throws RangeError when a place has no text, or a text no place
 */
export function fillMarked(page: string, texts: Readonly<Record<string, () => string>>): string {
  const left = new Set(Object.keys(texts));
  const filled = page.replace(MARK, (_, name: string) => {
    const text = texts[name];
    if (!text) throw new RangeError(`Nothing is generated for the marked place "${name}".`);
    left.delete(name);
    return `<!-- generated: ${name} -->\n${text()}\n<!-- end of ${name} -->`;
  });
  if (left.size > 0) throw new RangeError(`No marked place for: ${[...left].join(', ')}.`);
  return filled;
}
