import { freeOriginals, keepForGood, room, roomRule, size } from '../../store/index.ts'
import { say } from '../frame/say.ts'

/** How much room the browser leaves, and what may be deleted to make more. */
export function RoomLeft({ onMessage }: { onMessage: (words: string) => void }) {
  const r = room.value
  const free = async () => {
    const { freed, bytes } = await freeOriginals()
    onMessage(
      freed
        ? say('phone.freed', { count: freed, size: size(bytes) })
        : say('phone.nothing_freed'),
    )
  }
  const persist = async () =>
    onMessage((await keepForGood()) ? say('phone.persistent') : say('phone.not_persistent'))
  return (
    <section>
      <h2>{say('phone.room')}</h2>
      <p class={r.tight ? 'caution' : ''}>{r.words || say('phone.room_unknown')}</p>
      {!matchMedia('(display-mode: standalone)').matches && (
        <p class="small">{say('phone.in_a_tab')}</p>
      )}
      {r.quota > 0 && (
        <svg class="room-bar whole" viewBox="0 0 300 14" role="img" aria-label={say('phone.used', { percent: Math.round((r.used / r.quota) * 100) })}>
          <rect class="drawn" x="0.5" y="0.5" width="299" height="13" />
          <rect class="drawn ink-filled" x="0.5" y="0.5" width={Math.max(1, (r.used / r.quota) * 299)} height="13" />
        </svg>
      )}
      <p class="small soft">{roomRule()}</p>
      <button type="button" class="wide" onClick={() => void free()}>
        {say('phone.free')}
      </button>
      {!r.persisted && (
        <button type="button" class="wide" onClick={() => void persist()}>
          {say('phone.persist')}
        </button>
      )}
    </section>
  )
}
