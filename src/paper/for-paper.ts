/** A drawing of ours, made ready to be drawn into a PDF: without its ground, and without the halos of its letters, which would be drawn over them there. */
export const forPaper = (svg: string): string =>
  svg
    .replace(/<rect [^>]*\/>/, '')
    .replace(/(<svg [^>]*?) width="\d+" height="\d+"/, '$1')
    .replaceAll(/<g [^>]*paint-order="stroke"[^>]*>/g, (group) =>
      group.replace(/ stroke="[^"]*"/, ' stroke="none"'),
    );
