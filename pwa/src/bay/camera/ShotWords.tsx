import { TakeOut } from '../frame/TakeOut.tsx'
import { say } from '../frame/say.ts'
import { type Shot, amend, faultOf } from './pictures.ts'

const RETAKE = { blurred: 'camera.blurred', dark: 'camera.dark', bright: 'camera.bright' } as const

/** What is wrong with a picture: a hint to take it again, never forced; or that it was not saved, and what to do with its bytes. */
export function ShotWords({ shot, onAgain }: { shot: Shot; onAgain: () => void }) {
  const fault = faultOf(shot)
  if (!fault) return null
  if (fault === 'failed') {
    return (
      <div class="hint is-wrong washed" role="alert">
        <p>
          <strong>{say('camera.not_saved')}</strong> {shot.why}
        </p>
        <TakeOut files={shot.files} />
        <div class="hint-acts in-row above-4">
          <button type="button" onClick={() => amend(shot.key, { settled: true })}>
            {say('camera.dismiss')}
          </button>
        </div>
      </div>
    )
  }
  return (
    <div class="hint washed" role="status">
      <p>
        <strong>{say(RETAKE[fault])}</strong> {say('camera.retake_question')}
      </p>
      <div class="hint-acts in-row above-4">
        <button type="button" onClick={() => amend(shot.key, { settled: true })}>
          {say('camera.good_enough')}
        </button>
        <button type="button" class="main-act" onClick={onAgain}>
          {say('camera.retake')}
        </button>
      </div>
    </div>
  )
}
