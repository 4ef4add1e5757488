// Faces, cams, pins and plain lists: the rest of what the measuring screen can show of the next reading.
import type { Next } from './GridDrawing.tsx'
import { H, W, layOut } from './FaceDrawing.tsx'
import { EndOn, Hatch, Span } from './grid_views.tsx'

const FACE = { x: 4, y: 14, w: 152, h: 118 }

/** The straight-edge lines as the office's sheet lays them out, at this drawing's size. */
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
        <circle key={cx} class="gd-thin" cx={cx} cy="73" r="19" />
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
      <path class="gd-edge" d="M42 88a38 38 0 0 0 76 0c0 -24 -14 -34 -22 -62a16.6 16.6 0 0 0 -32 0c-8 28 -22 38 -22 62z" />
      <circle class="gd-axis" cx="80" cy="88" r="38" />
      <circle class="gd-thin" cx="80" cy="88" r="17" />
      <path class="gd-axis" d="M80 4v136M30 88h100" />
      {has('base') && <path class="gd-done" d="M42 94h12M106 94h12" />}
      {code && (base ? <Span x1={42} y1={88} x2={118} y2={88} /> : <Span x1={80} y1={13} x2={80} y2={126} />)}
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
      <path class="gd-thin" d="M22 24h116M22 31h116M22 40h116" />
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

const ROWS = 5

/** No drawing would say more than the words do: the readings as a parts list with their balloons. */
export function List({ all, code, has }: Next) {
  const at = Math.max(0, all.findIndex((r) => r.code === code))
  const from = Math.max(0, Math.min(at - 2, all.length - ROWS))
  const shown = all.slice(from, from + ROWS)
  return (
    <>
      {shown.map((reading, i) => {
        const y = 18 + i * 29
        const lit = reading.code === code
        return (
          <g key={reading.code}>
            <circle class={lit ? 'gd-balloon is-next' : has(reading.code) ? 'gd-balloon is-done' : 'gd-balloon'} cx="16" cy={y} r="11.5" />
            <text class={lit ? 'gd-number is-next' : 'gd-number'} x="16" y={y + 4.6} text-anchor="middle">
              {from + i + 1}
            </text>
            <line class="gd-thin" x1="28" x2="36" y1={y} y2={y} />
            <text class={lit ? 'gd-word is-next' : 'gd-word'} x="40" y={y + 4.6}>
              {reading.words.length > 17 ? `${reading.words.slice(0, 16)}…` : reading.words}
            </text>
          </g>
        )
      })}
    </>
  )
}
