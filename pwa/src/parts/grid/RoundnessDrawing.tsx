import { closedPath, MM, ovalThrough, radians, type Through } from './magnified.ts'
import './magnified.css'

export interface Ring {
  words: string
  readings: Through[]
}

export interface RoundnessProps {
  /** One ring for each height, the first drawn strongest. */
  rings: Ring[]
  /** The diameter drawn true, and the limits; mm. */
  about: number
  low?: number | null
  high?: number | null
  /** How often the deviation of the radius is magnified. */
  magnified: number
  label: string
  /** For those who cannot see it. */
  title: string
}

const ABOUT = 41
export const ROOM = 25
const HALF = 68

/** A bore or journal seen along its axis: deviations drawn many times their size, the limits as a band between two circles. */
export function RoundnessDrawing(props: RoundnessProps) {
  const { rings, about, low, high, magnified, label, title } = props
  const units = (size: number) => Math.max(3, ABOUT + (((size - about) / 2) * magnified) / MM)
  const both = typeof low === 'number' && typeof high === 'number'
  return (
    <svg class="keeps drawn" width={2 * HALF} height={2 * HALF} viewBox={`${-HALF} ${-HALF} ${2 * HALF} ${2 * HALF}`} role="img" aria-label={title}>
      {both && <path class="band" fill-rule="evenodd" d={`${circle(units(high))}${circle(units(low))}`} />}
      {[low, high].map((limit) => typeof limit === 'number' && <path key={limit} class="ink-line" d={circle(units(limit))} />)}
      <path class="axes faint-line" d={`M${-HALF + 2} 0H${HALF - 2}M0 ${-HALF + 2}V${HALF - 2}`} />
      {rings.map((ring, i) => {
        const size = ovalThrough(ring.readings)
        return (
          <g key={ring.words} class={`ring ring-${Math.min(i, 3)}`}>
            <path d={closedPath((degrees) => units(size(degrees)))} />
            {ring.readings.flatMap(({ angle, size: read }) =>
              [angle, angle + 180].map((at) => (
                <circle
                  key={at}
                  class="touch"
                  r="2.1"
                  cx={units(read) * Math.cos(radians(at))}
                  cy={-units(read) * Math.sin(radians(at))}
                />
              )),
            )}
          </g>
        )
      })}
      <text class="place-number ink-filled" y="1" text-anchor="middle" dominant-baseline="central">
        {label}
      </text>
    </svg>
  )
}

function circle(r: number): string {
  return `M${r} 0A${r} ${r} 0 1 0 ${-r} 0A${r} ${r} 0 1 0 ${r} 0Z`
}
