import './number_line.css'
import { say } from '../words/say.ts'
export interface NumberLineProps {
  /** Limits, value and uncertainty as figures only to place them; the words are given as typed. */
  low?: number | null
  high?: number | null
  value: number
  spread?: number
  lowText?: string
  highText?: string
  valueText: string
  unit: string
  /** The uncertainty as it is written: '0.003'. */
  spreadText?: string
}

const W = 320
const H = 66
const Y = 26
const SIDE = 66

/** A reading on its line: the tolerance bracket with its dimension arrows, the value a tick, its uncertainty a whisker. */
export function NumberLine(props: NumberLineProps) {
  const { low = null, high = null, value, spread = 0 } = props
  const marks = [low, high, value - spread, value + spread].filter((n): n is number => n !== null)
  const least = Math.min(...marks)
  const most = Math.max(...marks)
  const wide = most - least || Math.abs(value) * 0.01 || 1
  // With one limit alone the other side is open: the mark leaves room for it.
  const [left, right] = [low === null && high !== null ? SIDE + 60 : SIDE, high === null && low !== null ? SIDE + 60 : SIDE]
  const x = (n: number) => left + ((n - least) / wide) * (W - left - right)
  const from = low === null ? 8 : x(low)
  const to = high === null ? W - 8 : x(high)
  const both = low !== null && high !== null
  return (
    <svg class="number-line whole" viewBox={`0 0 ${W} ${H}`} role="img" aria-label={words(props)}>
      {(low !== null || high !== null) && <rect class="bracket" x={from} y={Y - 10} width={Math.max(1, to - from)} height="20" />}
      <line class="faint-line" x1="8" x2={W - 8} y1={Y} y2={Y} />
      {low !== null && <Limit x={x(low)} text={props.lowText} anchor={both ? 'end' : 'middle'} shift={both ? 12 : 0} />}
      {high !== null && <Limit x={x(high)} text={props.highText} anchor={both ? 'start' : 'middle'} shift={both ? -12 : 0} />}
      {both && to - from > 20 && (
        <g>
          <path class="drawn" d={`M${from} ${Y + 18}H${to}`} />
          <path class="ink-filled" d={`M${from} ${Y + 18}l9 -3v6zM${to} ${Y + 18}l-9 -3v6z`} />
        </g>
      )}
      {spread > 0 && <path class="whisker ink-line" d={`M${x(value - spread)} ${Y}H${x(value + spread)}M${x(value - spread)} ${Y - 7}v14M${x(value + spread)} ${Y - 7}v14`} />}
      <path class="value ink-line" d={`M${x(value)} ${Y + 11}V${Y - 14}`} />
      <path class="ink-filled" d={`M${x(value)} ${Y - 11}l-6.5 -11h13z`} />
    </svg>
  )
}

function Limit({ x, text, anchor, shift }: { x: number; text?: string; anchor: 'end' | 'start' | 'middle'; shift: number }) {
  return (
    <g>
      <line class="limit" x1={x} x2={x} y1={Y - 14} y2={Y + 22} />
      <text class="figure" x={x + shift} y={Y + 37} text-anchor={anchor}>
        {text}
      </text>
    </g>
  )
}

function words({ valueText, unit, lowText, highText, spreadText }: NumberLineProps): string {
  const value = spreadText ? say('line.value_uncertain', { value: `${valueText} ${unit}`, uncertainty: spreadText }) : `${valueText} ${unit}`
  return [value, limitWords(lowText, highText)].join('; ')
}

function limitWords(low = '', high = ''): string {
  if (low && high) return say('line.limits', { low, high })
  if (low) return say('line.least', { low })
  return high ? say('line.most', { high }) : say('verdict.no_limit')
}
