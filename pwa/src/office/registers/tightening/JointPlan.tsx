import { useRef, useState } from 'preact/hooks'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { say } from '../../frame/say.ts'
import { ARROWS, frameOf, neighbour, onJoint, onPaper, type Frame } from './plan.ts'
import type { Mark } from './marks.ts'
import { Axes, Dimensions, Head, OrderPath } from './plan_drawing.tsx'
import './joint_plan.css'

export type { Mark } from './marks.ts'

interface Props {
  fasteners: Fastener[]
  title: string
  marks?: Record<string, Mark>
  chosen?: string
  choose?: (label: string) => void
  /** Allows dragging, arrow keys and placing the chosen fastener by touching the drawing. */
  move?: (label: string, x_mm: number, y_mm: number) => void
  /** Dimensions of the chosen fastener from the centre. */
  dimensions?: boolean
  /** The way from fastener to fastener, drawn as a thin line. */
  path?: string[]
}

/** A joint seen from above, with its fasteners in place. A fastener is a button where something can be done with it. */
export function JointPlan({ fasteners, title, marks = {}, chosen = '', choose, move, dimensions, path = [] }: Props) {
  const plan = useRef<HTMLDivElement>(null)
  const [held, setHeld] = useState<{ label: string; frame: Frame } | null>(null)
  const tags = Object.values(marks).some(({ asked: specified, done }) => specified ?? done)
  // The frame does not change while a fastener is dragged over it.
  const frame = held?.frame ?? frameOf(fasteners, tags)
  const chosenFastener = fasteners.find(({ label }) => label === chosen)
  const spot = (event: MouseEvent) => {
    const box = plan.current!.getBoundingClientRect()
    const scale = frame.width / box.width
    return onJoint(frame, (event.clientX - box.left) * scale, (event.clientY - box.top) * scale)
  }
  const drag = (event: PointerEvent) => {
    if (!held || !move) return
    const { x_mm, y_mm } = spot(event)
    const before = fasteners.find(({ label }) => label === held.label)
    if (before && (before.x_mm !== x_mm || before.y_mm !== y_mm)) move(held.label, x_mm, y_mm)
  }
  const place = (event: MouseEvent) => {
    if (!move || !chosenFastener || (event.target as HTMLElement).closest('button')) return
    const { x_mm, y_mm } = spot(event)
    move(chosen, x_mm, y_mm)
  }
  const focus = (label: string | undefined) => plan.current?.querySelector<HTMLButtonElement>(`[data-fastener="${label}"]`)?.focus()
  return (
    <div
      ref={plan}
      class={`whole joint-plan${move ? ' is-movable' : ''}`}
      role="group"
      aria-label={title}
      style={{ aspectRatio: `${frame.width} / ${frame.height}` }}
      onPointerMove={drag}
      onPointerUp={() => setHeld(null)}
      onPointerCancel={() => setHeld(null)}
      onClick={place}
    >
      <PlanDrawing frame={frame} fasteners={fasteners} marks={marks} chosen={chosen} path={path} dimensions={dimensions && chosenFastener} />
      {fasteners.map((fastener) => {
        const shared = { label: nameWith(fastener, marks), style: over(frame, fastener) }
        if (!choose && !move) return <span key={fastener.label} role="img" aria-label={shared.label} style={shared.style} />
        return (
          <FastenerButton
            key={fastener.label}
            {...shared}
            fastener={fastener}
            chosen={fastener.label === chosen}
            choose={choose}
            move={move}
            hold={() => setHeld({ label: fastener.label, frame })}
            step={(key) => focus(neighbour(fasteners, fastener, key)?.label)}
          />
        )
      })}
    </div>
  )
}

interface DrawingProps {
  frame: Frame
  fasteners: Fastener[]
  marks: Record<string, Mark>
  chosen: string
  path: string[]
  /** The fastener that is dimensioned. */
  dimensions: Fastener | false | undefined
}

function PlanDrawing({ frame, fasteners, marks, chosen, path, dimensions }: DrawingProps) {
  return (
    <svg class="laid-over whole" viewBox={`0 0 ${frame.width} ${frame.height}`} aria-hidden="true" focusable="false">
      <Axes frame={frame} />
      <OrderPath frame={frame} fasteners={fasteners} path={path} />
      {dimensions && <Dimensions frame={frame} of={dimensions} />}
      {fasteners.map((fastener) => (
        <Head key={fastener.label} frame={frame} of={fastener} mark={marks[fastener.label] ?? {}} chosen={fastener.label === chosen} />
      ))}
    </svg>
  )
}

interface ButtonProps extends Pick<Props, 'choose' | 'move'> {
  fastener: Fastener
  label: string
  style: ReturnType<typeof over>
  chosen: boolean
  hold: () => void
  /** Goes to the fastener in the direction of an arrow key. */
  step: (key: string) => void
}

function FastenerButton({ fastener: { label: code, x_mm, y_mm }, label, style, chosen, choose, move, hold, step }: ButtonProps) {
  const onKeyDown = (event: KeyboardEvent) => {
    const by = ARROWS[event.key]
    if (!by) return
    event.preventDefault()
    event.stopPropagation()
    if (move && !event.shiftKey && chosen) move(code, x_mm + by[0], y_mm + by[1])
    else step(event.key)
  }
  return (
    <button
      type="button"
      data-fastener={code}
      aria-pressed={choose ? chosen : undefined}
      aria-label={label}
      style={style}
      onClick={() => choose?.(code)}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => {
        if (!move || event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        choose?.(code)
        hold()
      }}
    />
  )
}

/** "fastener 4, number 3 in the order" */
function nameWith({ label }: Fastener, marks: Record<string, Mark>): string {
  return [say('tightening.fastener', { label }), marks[label]?.said].filter(Boolean).join(', ')
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
