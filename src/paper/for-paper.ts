/** Prepares one of our drawings for a PDF: removes the background, and the halos of letters, which a PDF would draw over them. */
export const forPaper = (svg: string): string =>
  svg
    .replace(/<rect [^>]*\/>/, '')
    .replace(/(<svg [^>]*?) width="\d+" height="\d+"/, '$1')
    .replaceAll(/<g [^>]*paint-order="stroke"[^>]*>/g, (group) =>
      group.replace(/ stroke="[^"]*"/, ' stroke="none"'),
    );
