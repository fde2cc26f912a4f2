/** Receives the server's event stream, and opens it again whenever it breaks. */

const REOPEN_MS = 1000;

/** @returns a function that closes the stream for good */
export function listen<View>(address: string, onView: (view: View) => void): () => void {
  let source: EventSource | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const open = () => {
    source = new EventSource(address);
    source.onmessage = (event: MessageEvent<string>) => onView(JSON.parse(event.data) as View);
    // The browser itself reconnects after a broken connection, but gives up after an answer that is not a stream.
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
