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
}

const W = 320
const Y = 34

/** A reading on its line: the tolerance bracket with its dimension arrows, the value a tick, its uncertainty a whisker. */
export function NumberLine(props: NumberLineProps) {
  const { low, high, value, spread = 0 } = props
  const marks = [low, high, value - spread, value + spread].filter((n): n is number => typeof n === 'number')
  const least = Math.min(...marks)
  const most = Math.max(...marks)
  const wide = most - least || Math.abs(value) * 0.01 || 1
  const x = (n: number) => 42 + ((n - least) / wide) * (W - 84)
  return (
    <svg class="number-line" viewBox={`0 0 ${W} 84`} role="img" aria-label={words(props)}>
      <line class="line-faint" x1="8" x2={W - 8} y1={Y} y2={Y} />
      {typeof low === 'number' && typeof high === 'number' && <rect class="bracket" x={x(low)} y={Y - 9} width={Math.max(1, x(high) - x(low))} height="18" />}
      {[
        { n: low, text: props.lowText, side: 'end' },
        { n: high, text: props.highText, side: 'start' },
      ].map(
        ({ n, text, side }) =>
          typeof n === 'number' && (
            <g key={side}>
              <line class="limit" x1={x(n)} x2={x(n)} y1={Y - 14} y2={Y + 26} />
              <text class="figure" x={x(n)} y={Y + 42} text-anchor={typeof low === 'number' && typeof high === 'number' ? (side as 'end') : 'middle'}>
                {text}
              </text>
            </g>
          ),
      )}
      {typeof low === 'number' && typeof high === 'number' && x(high) - x(low) > 16 && (
        <path class="arrows" d={`M${x(low)} ${Y + 21}H${x(high)}m-8 -3.5 8 3.5 -8 3.5M${x(low) + 8} ${Y + 17.5}l-8 3.5 8 3.5`} />
      )}
      {spread > 0 && <line class="whisker" x1={x(value - spread)} x2={x(value + spread)} y1={Y} y2={Y} />}
      <path class="value" d={`M${x(value)} ${Y + 11}V${Y - 18}`} />
      <path class="value-head" d={`M${x(value)} ${Y - 16}l-6 -10h12z`} />
    </svg>
  )
}

function words({ valueText, unit, lowText, highText, spread }: NumberLineProps): string {
  const limits = lowText && highText ? `limits ${lowText} to ${highText}` : lowText ? `least ${lowText}` : highText ? `most ${highText}` : 'no limit set'
  return `${valueText} ${unit}${spread ? `, give or take ${spread}` : ''}; ${limits}`
}
