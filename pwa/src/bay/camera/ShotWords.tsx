import { type Shot, asks, amend } from './pictures.ts'
import { TakeOut } from '../frame/TakeOut.tsx'

const ASKED = { blurred: 'This looks blurred.', dark: 'This is dark.', bright: 'This is over-bright.' } as const

/** What a picture asks: to be taken again, never forced; or that it was not saved, and what to do with its bytes. */
export function ShotWords({ shot, onAgain }: { shot: Shot; onAgain: () => void }) {
  const asked = asks(shot)
  if (!asked) return null
  if (asked === 'not saved') {
    return (
      <div class="hint is-wrong" role="alert">
        <p>
          <strong>Not saved.</strong> {shot.why}
        </p>
        <TakeOut files={shot.files} />
        <div class="hint-acts">
          <button type="button" onClick={() => amend(shot.key, { settled: true })}>
            Put it aside
          </button>
        </div>
      </div>
    )
  }
  return (
    <div class="hint" role="status">
      <p>
        <strong>{ASKED[asked]}</strong> Take it again?
      </p>
      <div class="hint-acts">
        <button type="button" onClick={() => amend(shot.key, { settled: true })}>
          Good enough
        </button>
        <button type="button" class="main-act" onClick={onAgain}>
          Take it again
        </button>
      </div>
    </div>
  )
}
