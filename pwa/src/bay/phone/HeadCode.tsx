import { encode } from 'uqr'
import type { HeadSeen } from '../../store/index.ts'

/** Modules of quiet around the code, as ISO/IEC 18004 asks. */
const QUIET = 4

/** What a camera reads of a log fingerprint: the bytes that were signed, and on a line of its own the signature over them. */
export const headText = ({ bytes, signature }: Pick<HeadSeen, 'bytes' | 'signature'>) => `${bytes}\n${signature}`

/** A log fingerprint as a QR code, for another phone to take away without a network. */
export function HeadCode({ head, label }: { head: HeadSeen; label: string }) {
  const { data, size } = encode(headText(head), { ecc: 'L', border: 0 })
  const side = size + 2 * QUIET
  const path = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x + QUIET} ${y + QUIET}h1v1h-1z`] : []))).join('')
  return (
    <figure class="head-code">
      <svg viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shape-rendering="crispEdges">
        <rect width={side} height={side} fill="#fff" />
        <path d={path} fill="#000" />
      </svg>
      <figcaption class="small">{label}</figcaption>
    </figure>
  )
}
