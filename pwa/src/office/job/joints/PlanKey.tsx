import { say } from '../../frame/say.ts'

/** What the marks of the drawings mean. */
export function PlanKey() {
  return (
    <p class="plan-key along wrapped small">
      <span>
        <svg width="46" height="19" viewBox="0 0 46 19" aria-hidden="true" class="plan-tag">
          <rect class="ink-line" x="1" y="1" width="22" height="17" />
          <g class="is-apart">
            <rect class="ink-line" x="23" y="1" width="22" height="17" />
            <text class="ink-filled" x="34" y="14" text-anchor="middle">
              4
            </text>
          </g>
          <text class="ink-filled" x="12" y="14" text-anchor="middle">
            3
          </text>
        </svg>{' '}
        {say('joints.key_order')}
      </span>
      <span>
        <Ring /> {say('joints.key_answered')}
      </span>
      <span>
        <Ring open /> {say('joints.key_open')}
      </span>
    </p>
  )
}

function Ring({ open }: { open?: boolean }) {
  return (
    <svg width="26" height="26" viewBox="0 0 26 26" aria-hidden="true">
      <circle class={`drawn plan-ring is-${open ? 'open' : 'answered'}`} cx="13" cy="13" r="10" />
    </svg>
  )
}
