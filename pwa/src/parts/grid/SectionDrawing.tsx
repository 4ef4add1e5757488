import { useId } from 'preact/hooks'
import { MM } from './magnified.ts'
import './magnified.css'

export interface Profile {
  words: string
  /** One size for each station along the axis, mm; null where there is no reading. */
  sizes: (number | null)[]
}

export interface SectionProps {
  /** Metal lies outside a bore and inside a journal. */
  sort: 'bore' | 'journal'
  stations: string[]
  /** The first profile is drawn on the left (or above), the second on the right (or below). */
  profiles: Profile[]
  about: number
  low?: number | null
  high?: number | null
  magnified: number
  title: string
}

const WALL = 30
const LONG = 70
const METAL = 60

/** A bore or journal cut along its axis: how the size changes from end to end, each direction on its own side. */
export function SectionDrawing(props: SectionProps) {
  const { sort, stations, profiles, about, low, high, magnified, title } = props
  const hatch = useId()
  const off = (size: number) => Math.max(2, WALL + (((size - about) / 2) * magnified) / MM)
  const along = (i: number) => (stations.length < 2 ? LONG / 2 : 8 + (i * (LONG - 16)) / (stations.length - 1))
  const upright = sort === 'bore'
  // Worked out for a bore standing upright; a journal is the same turned to lie along the crank.
  const box = upright ? `${-METAL - 2} -10 ${2 * METAL + 4} ${LONG + 20}` : `-10 ${-METAL - 2} ${LONG + 20} ${2 * METAL + 4}`
  const [width, height] = upright ? [2 * METAL + 4, LONG + 20] : [LONG + 20, 2 * METAL + 4]
  const dot = (side: number, size: number, i: number) =>
    upright ? { cx: side * off(size), cy: along(i) } : { cx: along(i), cy: side * off(size) }
  const wall = (side: number, sizes: (number | null)[]) => {
    const read = sizes.map((size, i) => [i, size] as const).filter((station): station is [number, number] => station[1] !== null)
    if (!read.length) return null
    const ends: [number, number][] = [
      [0, off(read[0]![1])],
      ...read.map(([i, size]): [number, number] => [along(i), off(size)]),
      [LONG, off(read.at(-1)![1])],
    ]
    const point = ([at, o]: [number, number]) => (upright ? `${side * o} ${at}` : `${at} ${side * o}`)
    const line = `M${ends.map(point).join('L')}`
    const back = sort === 'bore' ? METAL : 0
    const shut = `${line}L${point([LONG, back])}L${point([0, back])}Z`
    return { line, shut, read }
  }
  const strip = (side: number, from: number, to: number) =>
    upright
      ? { x: Math.min(side * from, side * to), y: 0, width: Math.abs(to - from), height: LONG }
      : { x: 0, y: Math.min(side * from, side * to), width: LONG, height: Math.abs(to - from) }
  const both = typeof low === 'number' && typeof high === 'number'
  return (
    <svg class="section keeps drawn" width={width} height={height} viewBox={box} role="img" aria-label={title}>
      <defs>
        <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="hatch-line faint-line" d="M0 0V6" />
        </pattern>
      </defs>
      {[-1, 1].map((side, n) => {
        const profile = profiles[n] ?? profiles[0]
        const drawn = profile && wall(side, profile.sizes)
        return (
          drawn && (
            <g key={side} class={`side side-${Math.min(n, profiles.length - 1)}`}>
              <path class="metal" d={drawn.shut} fill={`url(#${hatch})`} />
              {both && <rect class="band" {...strip(side, off(low), off(high))} />}
              {[low, high].map(
                (limit) => typeof limit === 'number' && <rect key={limit} class="ink-line" {...strip(side, off(limit), off(limit) + 0.01)} />,
              )}
              <path class="wall" d={drawn.line} />
              {drawn.read.map(([i, size]) => (
                <circle key={i} class="touch" r="2.1" {...dot(side, size, i)} />
              ))}
            </g>
          )
        )
      })}
      <path class="axes faint-line" d={upright ? `M0 -8V${LONG + 8}` : `M-8 0H${LONG + 8}`} />
    </svg>
  )
}
