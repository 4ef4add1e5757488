// The parts that a plan of a joint is drawn from.

import type { Fastener } from '../../../trade/engine/parts.ts'
import type { Mark } from './marks.ts'
import { onPaper, type Frame } from './plan.ts'

export function Axes({ frame }: { frame: Frame }) {
  return (
    <g>
      <path class="plan-axis drawn-faint" d={`M8 ${frame.y0}H${frame.width - 8}`} />
      {frame.x0 > 0 && frame.x0 < frame.width && <path class="plan-axis drawn-faint" d={`M${frame.x0} 8V${frame.height - 8}`} />}
    </g>
  )
}

/** The order as a line with an arrow on each step. */
export function OrderPath({ frame, fasteners, path }: { frame: Frame; fasteners: Fastener[]; path: string[] }) {
  const spots = path.flatMap((label) => {
    const fastener = fasteners.find((placed) => placed.label === label)
    return fastener ? [onPaper(frame, fastener.x_mm, fastener.y_mm)] : []
  })
  return (
    <g class="plan-way">
      {spots.slice(1).map((to, i) => {
        const from = spots[i]!
        const turn = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI
        return (
          <g key={i}>
            <path d={`M${from.x.toFixed(1)} ${from.y.toFixed(1)}L${to.x.toFixed(1)} ${to.y.toFixed(1)}`} />
            <Arrow x={(2 * to.x + from.x) / 3} y={(2 * to.y + from.y) / 3} turn={turn} />
          </g>
        )
      })}
    </g>
  )
}

export function Head({ frame, of, mark, chosen }: { frame: Frame; of: Fastener; mark: Mark; chosen: boolean }) {
  const { x, y } = onPaper(frame, of.x_mm, of.y_mm)
  const r = frame.radius
  const look = `${chosen ? ' is-chosen' : ''}${mark.look ? ` is-${mark.look}` : ''}`
  return (
    <g class={`plan-head${look}`}>
      {mark.ring && <circle class={`drawn plan-ring is-${mark.ring}`} cx={x} cy={y} r={r + 5} />}
      <path class="plan-body ink-line" d={hexagon(x, y, r)} />
      <text class="plan-label bold ink-filled" x={x} y={y} dy="0.36em" text-anchor="middle" style={{ fontSize: `${Math.max(10, r * 0.78)}px` }}>
        {of.label}
      </text>
      {(mark.asked !== undefined || mark.done !== undefined) && <Tag x={x} y={y + r + (mark.ring ? 8 : 4)} mark={mark} />}
    </g>
  )
}

const CELL = { width: 22, height: 17 }

/** A divided frame: order specified, order as done. */
function Tag({ x, y, mark }: { x: number; y: number; mark: Mark }) {
  const cells = [mark.asked, mark.done].filter((words) => words !== undefined)
  const left = x - (cells.length * CELL.width) / 2
  return (
    <g class="plan-tag">
      {cells.map((words, i) => {
        const reverse = i === 1 && mark.apart
        return (
          <g key={i} class={reverse ? 'is-apart' : i === 1 ? 'is-done' : ''}>
            <rect class="ink-line" x={left + i * CELL.width} y={y} width={CELL.width} height={CELL.height} />
            <text class="ink-filled" x={left + (i + 0.5) * CELL.width} y={y + CELL.height / 2} dy="0.36em" text-anchor="middle">
              {words}
            </text>
          </g>
        )
      })}
    </g>
  )
}

/** The distance of a fastener from the centre, dimensioned as on an engineering drawing. */
export function Dimensions({ frame, of }: { frame: Frame; of: Fastener }) {
  const { x, y } = onPaper(frame, of.x_mm, of.y_mm)
  const [above, side] = [16, x > frame.width / 2 ? frame.width - 14 : 14]
  return (
    <g class="plan-dimension">
      {of.x_mm !== 0 && (
        <>
          <path d={`M${x} ${y}V${above - 8}M${frame.x0} ${frame.y0}V${above - 8}M${frame.x0} ${above}H${x}`} />
          <Arrow x={x} y={above} turn={x > frame.x0 ? 0 : 180} />
          <Arrow x={frame.x0} y={above} turn={x > frame.x0 ? 180 : 0} />
          <text x={(x + frame.x0) / 2} y={above - 3} text-anchor="middle">
            {of.x_mm}
          </text>
        </>
      )}
      {of.y_mm !== 0 && (
        <>
          <path d={`M${x} ${y}H${side}M${side} ${frame.y0}V${y}`} />
          <Arrow x={side} y={y} turn={y > frame.y0 ? 90 : 270} />
          <Arrow x={side} y={frame.y0} turn={y > frame.y0 ? 270 : 90} />
          <text x={side} y={(y + frame.y0) / 2} text-anchor="middle" transform={`rotate(-90 ${side} ${(y + frame.y0) / 2}) translate(0 -4)`}>
            {of.y_mm}
          </text>
        </>
      )}
    </g>
  )
}

function Arrow({ x, y, turn }: { x: number; y: number; turn: number }) {
  return <path class="plan-arrow" d="M0 0L-8 2.6V-2.6Z" transform={`translate(${x} ${y}) rotate(${turn})`} />
}

function hexagon(x: number, y: number, r: number): string {
  const corners = [0, 1, 2, 3, 4, 5].map((i) => `${(x + r * Math.cos((i * Math.PI) / 3)).toFixed(1)} ${(y + r * Math.sin((i * Math.PI) / 3)).toFixed(1)}`)
  return `M${corners.join('L')}Z`
}
