/** Closes resources in reverse order of opening, whatever happens. */
export async function closingAll<T>(act: (closing: (() => unknown)[]) => Promise<T>): Promise<T> {
  const closing: (() => unknown)[] = [];
  try {
    return await act(closing);
  } finally {
    for (const close of closing.reverse()) await close();
  }
}
