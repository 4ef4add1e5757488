import { useId } from 'preact/hooks'
import { type Limits, microns } from '../../trade/proposals/fits.ts'
import { type Dimension, dimensionWords, type Drawn, HIGH, inkOf, type Span, WIDE } from './fit_ink.ts'
import { say } from '../words/say.ts'
import './fits.css'

const HOLE = { x: 66, wide: 54 }
const SHAFT = { x: 174, wide: 54 }

/**
 * A fit as the drawing office shows it: the tolerance zones to scale about the zero line, the hole's in outline, the
 * shaft's hatched, deviations in micrometres; measured sizes as marks across their zones. Dimensions bear balloons 1 to 3.
 */
export function FitDrawing({ drawn, size }: { drawn: Drawn; size: string }) {
  const hatch = useId()
  const ink = inkOf(drawn)
  const { hole, shaft } = drawn
  const label = size.replace(/ mm$/, '')
  return (
    <svg class="fit-drawing whole" viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={words(drawn, size)}>
      <defs>
        <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="fd-hatch faint-line" d="M0 0V7" />
        </pattern>
      </defs>
      <text class="fd-name ink-filled" x="6" y="21">
        {label.length < 8 ? `Ø ${label}` : ''}
      </text>
      {ink.dimensions.map((dimension) => (
        <Extensions key={dimension.number} {...dimension} />
      ))}
      <text class="fd-figure is-soft ink-filled" x="6" y={HIGH - 4}>
        µm
      </text>
      {hole && ink.hole && <Zone at={HOLE} span={ink.hole} name={hole.code} upper={microns(hole.upper, true)} lower={microns(hole.lower, true)} />}
      {shaft && ink.shaft && (
        <Zone at={SHAFT} span={ink.shaft} name={shaft.code} upper={microns(shaft.upper, true)} lower={microns(shaft.lower, true)} fill={`url(#${hatch})`} />
      )}
      <path class="fd-zero ink-line" d={`M22 ${ink.zero}H274`} />
      <text class="fd-figure ink-filled" x="6" y={ink.zero + 5}>
        0
      </text>
      {ink.holeAt !== null && <Measured at={HOLE} y={ink.holeAt} />}
      {ink.shaftAt !== null && <Measured at={SHAFT} y={ink.shaftAt} />}
      {ink.dimensions.map((dimension) => (
        <Dimensioned key={dimension.number} {...dimension} />
      ))}
    </svg>
  )
}

interface ZoneProps {
  at: typeof HOLE
  span: Span
  name: string
  upper: string
  lower: string
  fill?: string
}

function Zone({ at, span, name, upper, lower, fill }: ZoneProps) {
  const [x, right] = [at.x, at.x + at.wide]
  const high = Math.max(2, span.bottom - span.top)
  return (
    <g>
      <text class="fd-name ink-filled" x={x + at.wide / 2} y="21" text-anchor="middle">
        {name}
      </text>
      <rect class="fd-paper" x={x} y={span.top} width={at.wide} height={high} />
      <rect class={fill ? 'fd-shaft' : 'fd-hole'} x={x} y={span.top} width={at.wide} height={high} fill={fill ?? 'none'} />
      <path class="fd-thin hollow" d={`M${right} ${span.top}H${right + 40}M${right} ${span.top + high}H${right + 40}`} />
      <text class="fd-figure ink-filled" x={right + 4} y={span.top - 4}>
        {upper}
      </text>
      <text class="fd-figure ink-filled" x={right + 4} y={span.top + high + 14}>
        {lower}
      </text>
    </g>
  )
}

/** A measured size: a stroke across its zone with a head at either end, as a gauge's pointer. */
function Measured({ at, y }: { at: typeof HOLE; y: number }) {
  const [left, right] = [at.x - 4, at.x + at.wide + 4]
  return (
    <g>
      <path class="fd-measured blue-line" d={`M${left} ${y}H${right}`} />
      <path class="fd-head ink-filled" d={`M${left + 4} ${y}l-11 -6v12zM${right - 4} ${y}l11 -6v12z`} />
    </g>
  )
}

function Extensions({ from, x, number }: Dimension) {
  const [hole, shaft] = from
  return <path class={`hollow fd-thin${number === 3 ? ' is-measured' : ''}`} d={`M${HOLE.x + HOLE.wide} ${hole}H${x + 5}M${SHAFT.x + SHAFT.wide} ${shaft}H${x + 5}`} />
}

/** The dimension line with its arrows, inside where there is room, else from outside, and a leader to its balloon. */
function Dimensioned({ number, x, top, bottom }: Dimension) {
  const inside = bottom - top >= 20
  const line = inside ? `M${x} ${top}V${bottom}` : `M${x} ${top}v-14M${x} ${bottom}v14`
  const heads = inside
    ? `M${x} ${top}l-3.2 9h6.4zM${x} ${bottom}l-3.2 -9h6.4z`
    : `M${x} ${top}l-3.2 -9h6.4zM${x} ${bottom}l-3.2 9h6.4z`
  return (
    <g class={number === 3 ? 'is-measured' : ''}>
      <path class="fd-thin hollow" d={`M${x} 28V${inside ? top : Math.max(28, top - 14)}`} />
      <path class="fd-dimension hollow" d={line} />
      <path class="fd-head ink-filled" d={heads} />
      <circle class="fd-balloon ink-line" cx={x} cy="16" r="11" />
      <text class="fd-number ink-filled" x={x} y="21" text-anchor="middle">
        {number}
      </text>
    </g>
  )
}

function words(drawn: Drawn, size: string): string {
  const { hole, shaft } = drawn
  const bounds = ({ code, lower, upper }: Limits) => ({ code, from: microns(lower, true), to: microns(upper, true) })
  const parts = [
    hole ? say('fits.hole_zone', { ...bounds(hole) }) : '',
    shaft ? say('fits.shaft_zone', { ...bounds(shaft) }) : '',
    ...dimensionWords(drawn).map(({ words, amount }) => say('fits.span', { what: words, amount: microns(amount) })),
  ]
  return say('fits.drawing', { size, parts: parts.filter(Boolean).join('; ') })
}
