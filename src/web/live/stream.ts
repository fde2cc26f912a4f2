/** The page's ear: one event stream that is opened again whenever it breaks. */

const REOPEN_MS = 1000;

/** @returns a function that closes the stream for good. */
export function listen<View>(address: string, onView: (view: View) => void): () => void {
  let source: EventSource | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const open = () => {
    source = new EventSource(address);
    source.onmessage = (event: MessageEvent<string>) => onView(JSON.parse(event.data) as View);
    // A browser retries a broken connection by itself, but gives up after an answer that is no stream.
    source.onerror = () => {
      if (source?.readyState !== EventSource.CLOSED) return;
      timer = setTimeout(open, REOPEN_MS);
    };
  };
  open();
  return () => {
    clearTimeout(timer);
    source?.close();
  };
}
