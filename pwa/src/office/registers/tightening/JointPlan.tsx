import { useRef, useState } from 'preact/hooks'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { ARROWS, beside, frameOf, onJoint, onPaper, type Frame } from './plan.ts'

/** What stands at a fastener beside its label. */
export interface Mark {
  /** In a divided frame under the head: the order asked for, and what was done. */
  asked?: string
  done?: string
  /** The two differ: what was done is set in reverse. */
  apart?: boolean
  /** 'lit' is next, 'done' is behind, 'open' still missing. */
  look?: 'lit' | 'done' | 'open'
  /** A departure: still open (brass, broken) or answered (ink). */
  ring?: 'open' | 'answered'
  /** All of that in words. */
  said?: string
}

interface Props {
  fasteners: Fastener[]
  title: string
  marks?: Record<string, Mark>
  chosen?: string
  choose?: (label: string) => void
  /** Allows dragging, arrow keys and setting down the chosen one by a touch of the paper. */
  move?: (label: string, x_mm: number, y_mm: number) => void
  /** Where the chosen one stands, as dimensions from the middle. */
  dimensions?: boolean
  /** The way from fastener to fastener, drawn as a thin line. */
  path?: string[]
}

/**
 * A joint seen from above, its fasteners at their places. Every fastener bears its name and what is marked; it is a button
 * where something can be done with it.
 */
export function JointPlan({ fasteners, title, marks = {}, chosen = '', choose, move, dimensions, path = [] }: Props) {
  const sheet = useRef<HTMLDivElement>(null)
  const [held, setHeld] = useState<{ label: string; frame: Frame } | null>(null)
  const tags = Object.values(marks).some(({ asked, done }) => asked ?? done)
  // The frame stands still while a fastener is dragged over it.
  const frame = held?.frame ?? frameOf(fasteners, tags)
  const one = fasteners.find(({ label }) => label === chosen)

  const spot = (event: PointerEvent | MouseEvent) => {
    const box = sheet.current!.getBoundingClientRect()
    const scale = frame.width / box.width
    return onJoint(frame, (event.clientX - box.left) * scale, (event.clientY - box.top) * scale)
  }
  const drag = (event: PointerEvent) => {
    if (!held || !move) return
    const { x_mm, y_mm } = spot(event)
    const was = fasteners.find(({ label }) => label === held.label)
    if (was && (was.x_mm !== x_mm || was.y_mm !== y_mm)) move(held.label, x_mm, y_mm)
  }
  const typed = (event: KeyboardEvent, from: Fastener) => {
    const step = ARROWS[event.key]
    if (!step) return
    event.preventDefault()
    event.stopPropagation()
    if (move && !event.shiftKey && from.label === chosen) return move(from.label, from.x_mm + step[0], from.y_mm + step[1])
    const next = beside(fasteners, from, event.key)
    sheet.current?.querySelector<HTMLButtonElement>(`[data-fastener="${next?.label}"]`)?.focus()
  }
  return (
    <div
      ref={sheet}
      class={`joint-plan${move ? ' is-movable' : ''}`}
      role="group"
      aria-label={title}
      style={{ aspectRatio: `${frame.width} / ${frame.height}` }}
      onPointerMove={drag}
      onPointerUp={() => setHeld(null)}
      onPointerCancel={() => setHeld(null)}
      onClick={(event) => {
        if (!move || !one || (event.target as HTMLElement).closest('button')) return
        const { x_mm, y_mm } = spot(event)
        move(one.label, x_mm, y_mm)
      }}
    >
      <svg viewBox={`0 0 ${frame.width} ${frame.height}`} aria-hidden="true" focusable="false">
        <Axes frame={frame} />
        <Way frame={frame} fasteners={fasteners} path={path} />
        {dimensions && one && <Dimensions frame={frame} of={one} />}
        {fasteners.map((fastener) => (
          <Head key={fastener.label} frame={frame} of={fastener} mark={marks[fastener.label] ?? {}} chosen={fastener.label === chosen} />
        ))}
      </svg>
      {fasteners.map((fastener) =>
        choose || move ? (
        <button
          key={fastener.label}
          type="button"
          data-fastener={fastener.label}
          aria-pressed={choose ? fastener.label === chosen : undefined}
          aria-label={spoken(fastener, marks)}
          style={over(frame, fastener)}
          onClick={() => choose?.(fastener.label)}
          onKeyDown={(event) => typed(event, fastener)}
          onPointerDown={(event) => {
            if (!move || event.button !== 0) return
            event.currentTarget.setPointerCapture(event.pointerId)
            choose?.(fastener.label)
            setHeld({ label: fastener.label, frame })
          }}
        />
        ) : (
          <span key={fastener.label} role="img" aria-label={spoken(fastener, marks)} style={over(frame, fastener)} />
        ),
      )}
    </div>
  )
}

function spoken({ label }: Fastener, marks: Record<string, Mark>): string {
  return [`fastener ${label}`, marks[label]?.said].filter(Boolean).join(', ')
}

function over(frame: Frame, { x_mm, y_mm }: Fastener) {
  const { x, y } = onPaper(frame, x_mm, y_mm)
  const part = (n: number, of: number) => `${((n / of) * 100).toFixed(3)}%`
  return {
    left: part(x - frame.radius, frame.width),
    top: part(y - frame.radius, frame.height),
    width: part(2 * frame.radius, frame.width),
    height: part(2 * frame.radius, frame.height),
  }
}

function Axes({ frame }: { frame: Frame }) {
  return (
    <g>
      <path class="plan-axis" d={`M8 ${frame.y0}H${frame.width - 8}`} />
      {frame.x0 > 0 && frame.x0 < frame.width && <path class="plan-axis" d={`M${frame.x0} 8V${frame.height - 8}`} />}
    </g>
  )
}

/** The order as a line with an arrow in the middle of each step. */
function Way({ frame, fasteners, path }: { frame: Frame; fasteners: Fastener[]; path: string[] }) {
  const spots = path.flatMap((label) => {
    const one = fasteners.find((fastener) => fastener.label === label)
    return one ? [onPaper(frame, one.x_mm, one.y_mm)] : []
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

function Head({ frame, of, mark, chosen }: { frame: Frame; of: Fastener; mark: Mark; chosen: boolean }) {
  const { x, y } = onPaper(frame, of.x_mm, of.y_mm)
  const r = frame.radius
  const look = `${chosen ? ' is-chosen' : ''}${mark.look ? ` is-${mark.look}` : ''}`
  return (
    <g class={`plan-head${look}`}>
      {mark.ring && <circle class={`plan-ring is-${mark.ring}`} cx={x} cy={y} r={r + 5} />}
      <path class="plan-body" d={hexagon(x, y, r)} />
      <text class="plan-label" x={x} y={y} dy="0.36em" text-anchor="middle" style={{ fontSize: `${Math.max(10, r * 0.78)}px` }}>
        {of.label}
      </text>
      {(mark.asked !== undefined || mark.done !== undefined) && <Tag x={x} y={y + r + (mark.ring ? 8 : 4)} mark={mark} />}
    </g>
  )
}

const CELL = { width: 22, height: 17 }

/** A divided frame: order asked for, order as done. */
function Tag({ x, y, mark }: { x: number; y: number; mark: Mark }) {
  const cells = [mark.asked, mark.done].filter((one) => one !== undefined)
  const left = x - (cells.length * CELL.width) / 2
  return (
    <g class="plan-tag">
      {cells.map((words, i) => {
        const reverse = i === 1 && mark.apart
        return (
          <g key={i} class={reverse ? 'is-apart' : i === 1 ? 'is-done' : ''}>
            <rect x={left + i * CELL.width} y={y} width={CELL.width} height={CELL.height} />
            <text x={left + (i + 0.5) * CELL.width} y={y + CELL.height / 2} dy="0.36em" text-anchor="middle">
              {words}
            </text>
          </g>
        )
      })}
    </g>
  )
}

/** How far the chosen one stands from the middle, as a drawing says it. */
function Dimensions({ frame, of }: { frame: Frame; of: Fastener }) {
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
