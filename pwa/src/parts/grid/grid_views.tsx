// Round things in section and in plan, as the drawing office shows them: where the gauge goes next is lit.
import type { Next } from './grid_props.ts'
import { say } from '../words/say.ts'

const DEG = Math.PI / 180
const HEAD = 7

/** Stands on the reading's own line: arrow heads at both ends, pointing outward into what is measured. */
export function Span({ x1, y1, x2, y2 }: { x1: number; y1: number; x2: number; y2: number }) {
  const turn = Math.atan2(y2 - y1, x2 - x1) / DEG
  const head = `M0 0 L${-HEAD} -3.6 L${-HEAD} 3.6 Z`
  return (
    <g class="gd-next">
      <line class="blue-line hollow" x1={x1} y1={y1} x2={x2} y2={y2} />
      <path class="blue-head" d={head} transform={`translate(${x2} ${y2}) rotate(${turn})`} />
      <path class="blue-head" d={head} transform={`translate(${x1} ${y1}) rotate(${turn + 180})`} />
    </g>
  )
}

/** A direction seen end-on: the tip of the arrow comes out of the sheet. */
export function EndOn({ x, y }: { x: number; y: number }) {
  return (
    <g class="gd-next">
      <circle class="gd-ring blue-line hollow" cx={x} cy={y} r="7" />
      <circle class="blue-head" cx={x} cy={y} r="2.4" />
    </g>
  )
}

/** Hatching of a cut face between two heights, lines at 45 degrees. */
export function Hatch({ x, y, w, h, id }: { x: number; y: number; w: number; h: number; id: string }) {
  return (
    <g>
      <defs>
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line class="faint-line" x1="0" x2="0" y1="0" y2="6" />
        </pattern>
      </defs>
      <rect x={x} y={y} width={w} height={h} fill={`url(#${id})`} />
      <rect class="gd-edge" x={x} y={y} width={w} height={h} />
    </g>
  )
}

/** A circle seen along its axis, the directions as thin lines, the next one as a dimension across it. */
export function Plan(props: { cx: number; cy: number; r: number; angles: number[]; lit: number; words: string; split?: boolean }) {
  const { cx, cy, r, angles, lit, words } = props
  const at = (angle: number, d: number) => ({ x: cx + d * Math.cos(angle * DEG), y: cy - d * Math.sin(angle * DEG) })
  return (
    <g>
      <circle class="gd-edge" cx={cx} cy={cy} r={r} />
      {angles.map((angle, i) => {
        const [a, b] = [at(angle, r + 6), at(angle + 180, r + 6)]
        return <line key={i} class="gd-axis" x1={a.x} y1={a.y} x2={b.x} y2={b.y} />
      })}
      {props.split && <path class="gd-edge" d={`M${cx - r - 12} ${cy}h12M${cx + r} ${cy}h12`} />}
      {lit >= 0 && <Span x1={at(angles[lit]! + 180, r).x} y1={at(angles[lit]! + 180, r).y} x2={at(angles[lit]!, r).x} y2={at(angles[lit]!, r).y} />}
      {lit >= 0 && words && (
        <text class="gd-word is-next" x={cx} y={cy + r + 19} text-anchor="middle">
          {words}
        </text>
      )}
    </g>
  )
}

const spread = (n: number, from: number, to: number) => Array.from({ length: n }, (_, i) => (n === 1 ? (from + to) / 2 : from + ((to - from) * i) / (n - 1)))

/** The angles at which directions are drawn: as their words give them ("90 deg"), else shared out from the thrust side round. */
export function anglesOf(values: { code: string; words: string }[]): number[] {
  const written = values.map((v) => /^-?\d+(?:\.\d+)?/.exec(v.words.trim())?.[0] ?? /^-?\d+$/.exec(v.code)?.[0])
  if (written.every((s) => s !== undefined)) return written.map(Number)
  return values.map((_, i) => (i * 180) / values.length)
}

/** A cylinder cut along its axis, piston way up: heights across it, thrust to the right, the axis of the engine into the sheet. */
export function Bore({ axes, next, has, id }: Next) {
  const [heights, directions] = [axes[0]?.values ?? [], axes[1]?.values ?? []]
  const angles = anglesOf(directions)
  const ys = spread(heights.length, 36, 112)
  const beside = next.length > 0 && next[0]! < 0
  const row = next[0] ?? -1
  const y = beside ? 19 : (ys[row] ?? -1)
  const across = next.length < 2 || Math.abs(Math.cos((angles[next[1]!] ?? 0) * DEG)) > 0.7
  return (
    <>
      <Hatch x={6} y={12} w={15} h={124} id={`${id}-l`} />
      <Hatch x={77} y={12} w={15} h={124} id={`${id}-r`} />
      <line class="gd-axis" x1="49" x2="49" y1="4" y2="144" />
      <path class="drawn-faint" d="M21 26h56" />
      {ys.map((at, i) => (
        <g key={i}>
          <line class="drawn-faint" x1="21" x2="77" y1={at} y2={at} />
          {directions.map((d, j) => has(`${heights[i]!.code}/${d.code}`) && <line key={d.code} class="gd-stroke" x1={26 + j * 6} x2={26 + j * 6} y1={at - 5} y2={at + 5} />)}
        </g>
      ))}
      {y >= 0 && (across ? <Span x1={21} y1={y} x2={77} y2={y} /> : <EndOn x={49} y={y} />)}
      {directions.length > 0 && <Plan cx={128} cy={64} r={25} angles={angles} lit={next[1] ?? -1} words={directions[next[1] ?? -1]?.words ?? ''} />}
      {directions.length > 0 && (
        <text class="gd-word" x="128" y="24" text-anchor="middle">
          {say('grid.from_above')}
        </text>
      )}
    </>
  )
}

/** A journal between its webs, its fillets, and the shaft seen from its end. */
export function Journal({ axes, next, has, id }: Next) {
  const [positions, directions] = [axes[0]?.values ?? [], axes[1]?.values ?? []]
  const angles = anglesOf(directions)
  const xs = spread(positions.length, 30, 72)
  const x = xs[next[0] ?? -1] ?? -1
  const upright = next.length < 2 || Math.abs(Math.sin((angles[next[1]!] ?? 90) * DEG)) > 0.5
  return (
    <>
      <Hatch x={4} y={18} w={14} h={108} id={`${id}-l`} />
      <Hatch x={84} y={18} w={14} h={108} id={`${id}-r`} />
      <path class="gd-edge" d="M18 40q4 8 8 8h50q4 0 8 -8M18 104q4 -8 8 -8h50q4 0 8 8" />
      <line class="gd-axis" x1="0" x2="102" y1="72" y2="72" />
      {xs.map((at, i) => (
        <g key={i}>
          <line class="drawn-faint" x1={at} x2={at} y1="48" y2="96" />
          {directions.map((d, j) => has(`${positions[i]!.code}/${d.code}`) && <line key={d.code} class="gd-stroke" x1={at - 5} x2={at + 5} y1={84 + j * 5} y2={84 + j * 5} />)}
        </g>
      ))}
      {x >= 0 && (upright ? <Span x1={x} y1={48} x2={x} y2={96} /> : <EndOn x={x} y={72} />)}
      {directions.length > 0 && <Plan cx={131} cy={72} r={23} angles={angles} lit={next[1] ?? -1} words={directions[next[1] ?? -1]?.words ?? ''} />}
    </>
  )
}

/** The eye of a rod or a main housing with its cap on, seen along the shaft: the first direction stands upright. */
export function Housing({ axes, next, id }: Next) {
  const directions = axes.at(-1)?.values ?? []
  const angles = anglesOf(directions).map((angle) => 90 - angle)
  const lit = next.at(-1) ?? -1
  return (
    <>
      <path class="gd-edge" d="M70 6 62 26q-32 14 -32 50v14q0 44 50 50q50 -6 50 -50v-14q0 -36 -32 -50L90 6" />
      <path class="drawn-faint" d="M30 76h16M114 76h16M38 66v20M122 66v20" />
      <Plan cx={80} cy={76} r={34} angles={angles} lit={lit} words="" split />
      {lit >= 0 && (
        <text class="gd-word is-next" x="80" y="132" text-anchor="middle" id={id}>
          {directions[lit]!.words}
        </text>
      )}
    </>
  )
}
