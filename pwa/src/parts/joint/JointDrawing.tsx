import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import { beside, jointLayout, type JointFastener, type JointLayout, type JointSpot, ordinal, WASHER } from './joint_layout.ts'
import { say } from '../words/say.ts'
import './joint.css'

export interface JointMark {
  look: 'open' | 'next' | 'done' | 'skipped'
  /** Its place in the order: as done, else as planned; 0 for none. */
  at: number
  /** A deviation: broken ring while it is open, whole ring once it is answered. */
  ring?: 'open' | 'answered'
  /** All of it in words, after the fastener's name. */
  words: string
}

export interface JointDrawingProps {
  fasteners: readonly JointFastener[]
  title: string
  marks: Record<string, JointMark>
  /** The way from fastener to fastener as it was done. */
  path?: readonly string[]
  /** Which end is the front, where the joint has one. */
  front?: 'left' | 'above'
  onChoose: (label: string) => void
}

const LOOKS = { open: 'is-open', next: 'is-next', done: 'is-done', skipped: 'is-left-out' }
/** How many of the last fasteners the way goes through: more would be a tangle. */
const TRAIL = 3
const OPEN: JointMark = { look: 'open', at: 0, words: '' }

/** A joint seen from above, as large as there is room: every fastener is a button, what is done has been struck with a mark. */
export function JointDrawing({ fasteners, title, marks, path = [], front, onChoose }: JointDrawingProps) {
  const frame = useRef<HTMLDivElement>(null)
  const room = useRoom(frame)
  const layout = jointLayout(fasteners, room.width, room.height)
  const next = Object.keys(marks).find((label) => marks[label]!.look === 'next')
  const buttons = () => frame.current!.querySelectorAll<HTMLButtonElement>('button')
  const button = (label: string) => [...buttons()].find((candidate) => candidate.dataset.fastener === label)
  useEffect(() => {
    if (next) button(next)?.scrollIntoView({ block: 'nearest', inline: 'center' })
  }, [next, layout.width])
  const step = (event: KeyboardEvent, spot: JointSpot) => {
    const to = beside(layout.spots, spot, event.key)
    if (!to) return
    event.preventDefault()
    button(to.label)?.focus()
  }
  return (
    <div class="joint" ref={frame}>
      <div class="joint-sheet" role="group" aria-label={title} style={{ width: `${layout.width}px`, height: `${layout.height}px` }}>
        <svg class="laid-over" width={layout.width} height={layout.height} aria-hidden="true" focusable="false">
          <Ground layout={layout} front={front} />
          <Way layout={layout} path={path} next={next} />
          {layout.spots.map((spot) => (
            <Head key={spot.label} spot={spot} radius={layout.radius} mark={marks[spot.label] ?? OPEN} />
          ))}
          {layout.spots.map((spot) => (
            <At key={spot.label} spot={spot} radius={layout.radius} mark={marks[spot.label] ?? OPEN} />
          ))}
        </svg>
        {layout.spots.map((spot) => (
          <button class="ring-inside"
            key={spot.label}
            type="button"
            data-fastener={spot.label}
            aria-label={[say('joint.fastener', { number: spot.label }), marks[spot.label]?.words].filter(Boolean).join(', ')}
            style={over(spot, layout.touch)}
            onClick={() => onChoose(spot.label)}
            onKeyDown={(event) => step(event, spot)}
          />
        ))}
      </div>
    </div>
  )
}

/** Width and height on offer; measured again when the screen turns. */
function useRoom(frame: { current: HTMLDivElement | null }) {
  const [room, setRoom] = useState({ width: 320, height: 220 })
  useLayoutEffect(() => {
    const element = frame.current!
    const look = () => {
      const [width, height] = [element.clientWidth, element.clientHeight]
      if (width && height) setRoom((was) => (was.width === width && was.height === height ? was : { width, height }))
    }
    look()
    const watch = new ResizeObserver(look)
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  return room
}

const over = ({ x, y }: JointSpot, touch: number) => ({
  left: `${x - touch / 2}px`,
  top: `${y - touch / 2}px`,
  width: `${touch}px`,
  height: `${touch}px`,
})

/** The face of the joint with its centre lines. */
function Ground({ layout, front }: { layout: JointLayout; front?: 'left' | 'above' }) {
  const { width, height, spots, radius } = layout
  const reach = radius * WASHER + 7
  const [xs, ys] = [spots.map(({ x }) => x), spots.map(({ y }) => y)]
  const box = { x: Math.min(...xs) - reach, y: Math.min(...ys) - reach, w: Math.max(...xs) - Math.min(...xs) + 2 * reach, h: Math.max(...ys) - Math.min(...ys) + 2 * reach }
  const middle = { x: box.x + box.w / 2, y: box.y + box.h / 2 }
  return (
    <g>
      <rect class="joint-face drawn" x={box.x} y={box.y} width={box.w} height={box.h + 14} rx="9" />
      <path class="joint-axis drawn-faint" d={`M${Math.max(2, box.x - 10)} ${middle.y}H${Math.min(width - 2, box.x + box.w + 10)}M${middle.x} ${Math.max(2, box.y - 10)}V${Math.min(height - 2, box.y + box.h + 22)}`} />
      {front === 'left' && (
        <text class="joint-word" x={box.x} y={box.y - 7}>
          {say('drawing.front')}
        </text>
      )}
      {front === 'above' && (
        <text class="joint-word" x={middle.x + 6} y={box.y - 7}>
          {say('drawing.front')}
        </text>
      )}
    </g>
  )
}

function Way({ layout, path, next }: { layout: JointLayout; path: readonly string[]; next?: string }) {
  const at = (label: string) => layout.spots.find((spot) => spot.label === label)
  const done = path.slice(-TRAIL).flatMap((label) => at(label) ?? [])
  const [from, to] = [done.at(-1), next ? at(next) : undefined]
  return (
    <g class="joint-way">
      {done.length > 1 && <path class="drawn-faint" d={`M${done.map(({ x, y }) => `${x} ${y}`).join('L')}`} />}
      {from && to && <path class="is-ahead drawn-faint blue-line" d={`M${from.x} ${from.y}L${to.x} ${to.y}`} />}
    </g>
  )
}

function Head({ spot: { x, y, label }, radius, mark }: { spot: JointSpot; radius: number; mark: JointMark }) {
  const r = mark.look === 'next' ? radius * 1.18 : radius
  const washer = radius * WASHER
  return (
    <g class={`joint-head ${LOOKS[mark.look]}`}>
      {mark.ring && <circle class={`hollow joint-ring is-${mark.ring}`} cx={x} cy={y} r={washer + 6} />}
      <circle class="joint-washer" cx={x} cy={y} r={mark.look === 'next' ? washer * 1.12 : washer} />
      <path class="joint-body" d={hexagon(x, y, r)} />
      {mark.look === 'done' && <Struck x={x} y={y} r={radius} />}
      {mark.look === 'next' && <Sight x={x} y={y} r={washer * 1.12} />}
      <text class="joint-label" x={x} y={y} dy="0.36em" text-anchor="middle" style={{ fontSize: `${Math.max(14, r * 0.82)}px` }}>
        {label}
      </text>
    </g>
  )
}

/** Its place in the order, below the washer; drawn after all heads, so that no neighbour hides it. */
function At({ spot: { x, y }, radius, mark }: { spot: JointSpot; radius: number; mark: JointMark }) {
  if (mark.at === 0) return null
  return (
    <text class={`joint-at ${LOOKS[mark.look]}`} x={x} y={y + radius * WASHER + (mark.ring ? 19 : mark.look === 'next' ? 17 : 14)} text-anchor="middle">
      {ordinal(mark.at)}
    </text>
  )
}

/** The witness mark: one stroke of the pen over head, washer and face, as it is struck on the metal. */
function Struck({ x, y, r }: { x: number; y: number; r: number }) {
  const along = (from: number, to: number) => {
    const [c, s] = [Math.cos(-Math.PI / 4), Math.sin(-Math.PI / 4)]
    return `M${(x + c * from).toFixed(1)} ${(y + s * from).toFixed(1)}L${(x + c * to).toFixed(1)} ${(y + s * to).toFixed(1)}`
  }
  return (
    <g>
      <path class="joint-struck-gap" d={along(r * 0.6, r * 1.9)} />
      <path class="joint-struck ink-line" d={along(r * 0.6, r * 1.84)} />
    </g>
  )
}

/** Strokes towards the head that is next. */
function Sight({ x, y, r }: { x: number; y: number; r: number }) {
  const [near, far] = [r + 2, r + 10]
  return <path class="joint-sight blue-line" d={`M${x - far} ${y}H${x - near}M${x + near} ${y}H${x + far}M${x} ${y - far}V${y - near}`} />
}

function hexagon(x: number, y: number, r: number): string {
  const corners = [0, 1, 2, 3, 4, 5].map((i) => `${(x + r * Math.cos((i * Math.PI) / 3)).toFixed(1)} ${(y + r * Math.sin((i * Math.PI) / 3)).toFixed(1)}`)
  return `M${corners.join('L')}Z`
}
