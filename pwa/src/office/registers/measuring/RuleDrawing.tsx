import type { Rules } from '../../../trade/measuring/rules.ts'
import { say } from '../../frame/say.ts'

const GUARD = { guarded: 22, guarded_95: 16, simple: 0 }

/** A pair of limits with the zone in which a figure passes, the zone in which nothing is proven hatched. */
export function RuleDrawing({ rule }: { rule: Rules['rule'] }) {
  const [low, high, guard] = [70, 230, GUARD[rule]]
  return (
    <svg class="rule-drawing whole drawn" viewBox="0 0 300 46" aria-hidden="true">
      <defs>
        <pattern id={`open-${rule}`} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="hatch-line faint-line" d="M0 0V5" />
        </pattern>
      </defs>
      <path class="faint-line" d="M6 18H294" />
      <rect class="band" x={low + guard} y="9" width={high - low - 2 * guard} height="18" />
      {guard > 0 &&
        [low, high].map((x) => <rect key={x} x={x - guard} y="9" width={2 * guard} height="18" fill={`url(#open-${rule})`} />)}
      {[low, high].map((x) => (
        <path key={x} class="limit" d={`M${x} 3V33`} />
      ))}
      <text x={150} y="42" text-anchor="middle">
        {say('rules.within')}
      </text>
      {[30, 270].map((x) => (
        <text key={x} x={x} y="42" text-anchor="middle">
          {say('rules.outside')}
        </text>
      ))}
    </svg>
  )
}
