import { encode } from 'uqr';

/** Width of the light border around the code, modules (ISO/IEC 18004 asks for 4; from memory). */
const QUIET = 4;

/** A QR code, dark on light in every color scheme, since many cameras read no other. */
export function Qr({ text, name }: { text: string; name: string }) {
  const { data, size } = encode(text, { border: 0, ecc: 'M' });
  const dark = data.flatMap((row, y) => row.map((on, x) => (on ? `M${x},${y}h1v1h-1z` : ''))).join('');
  const side = size + 2 * QUIET;
  return (
    <svg
      class="qr"
      width="300"
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      role="img"
      aria-label={name}
      shape-rendering="crispEdges"
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} fill="#fff" />
      <path d={dark} fill="#000" />
    </svg>
  );
}
