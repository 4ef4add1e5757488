// Faces, cams and pins: the rest of what the measuring screen can show of the next reading.
import type { Next } from './grid_props.ts'
import { H, W, layOut } from './FaceDrawing.tsx'
import { EndOn, Hatch, Span } from './grid_views.tsx'

const FACE = { x: 4, y: 14, w: 152, h: 118 }

/** The straight-edge lines as the office's figures lay them out, at this drawing's size. */
const linesOf = (codes: string[]) =>
  layOut(codes).map(([x1, y1, x2, y2]) => [FACE.x + (x1 * FACE.w) / W, FACE.y + (y1 * FACE.h) / H, FACE.x + (x2 * FACE.w) / W, FACE.y + (y2 * FACE.h) / H] as const)

/** A joint face from above: where the straight-edge lies next. */
export function Face({ axes, next, has }: Next) {
  const values = axes[0]?.values ?? []
  const lines = linesOf(values.map((v) => v.code))
  const lit = lines[next[0] ?? -1]
  return (
    <>
      <rect class="gd-edge" x={FACE.x} y={FACE.y} width={FACE.w} height={FACE.h} rx="6" />
      {[34, 80, 126].map((cx) => (
        <circle key={cx} class="drawn-faint" cx={cx} cy="73" r="19" />
      ))}
      {lines.map(([x1, y1, x2, y2], i) => (
        <line key={i} class={has(values[i]!.code) ? 'gd-done' : 'gd-axis'} x1={x1} y1={y1} x2={x2} y2={y2} />
      ))}
      {lit && <Span x1={lit[0]} y1={lit[1]} x2={lit[2]} y2={lit[3]} />}
    </>
  )
}

/** A cam seen along its shaft: heel to nose, or across its base circle. */
export function Lobe({ next, code, has }: Next) {
  const base = /base|heel_to_heel|across|flank/.test(code)
  return (
    <>
      <path class="gd-edge" d="M46.1 79.8A36 36 0 1 0 113.9 79.8L94.1 24.9A15 15 0 0 0 65.9 24.9Z" />
      <circle class="gd-axis" cx="80" cy="92" r="36" />
      <circle class="drawn-faint" cx="80" cy="92" r="16" />
      <path class="gd-axis" d="M80 4v138M32 92h96" />
      {has('base') && <path class="gd-done" d="M44 99h11M105 99h11" />}
      {code && (base ? <Span x1={44} y1={92} x2={116} y2={92} /> : <Span x1={80} y1={15} x2={80} y2={128} />)}
    </>
  )
}

/** A piston cut through its gudgeon pin: how far each end stands back from the bore, or out. */
export function Pin({ code, has, id }: Next) {
  const left = /left|front/.test(code)
  const right = /right|rear/.test(code)
  return (
    <>
      <Hatch x={4} y={6} w={11} h={136} id={`${id}-l`} />
      <Hatch x={145} y={6} w={11} h={136} id={`${id}-r`} />
      <path class="gd-edge" d="M22 142V14h116v128" />
      <path class="drawn-faint" d="M22 24h116M22 31h116M22 40h116" />
      <rect class="gd-edge" x="32" y="66" width="96" height="42" />
      <path class="gd-axis" d="M18 87h124M80 8v134" />
      {has('left') && <path class="gd-done" d="M24 112v10" />}
      {has('right') && <path class="gd-done" d="M136 112v10" />}
      {left && <Span x1={15} y1={87} x2={32} y2={87} />}
      {right && <Span x1={128} y1={87} x2={145} y2={87} />}
      {code && !left && !right && <EndOn x={80} y={87} />}
    </>
  )
}
