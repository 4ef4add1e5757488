import type { ComponentChildren } from 'preact'
import { minutes } from '../../parts/media/AudioPlayer.tsx'
import { LevelLine } from '../../parts/figures/LevelLine.tsx'
import { TalkButton } from '../../parts/media/TalkButton.tsx'
import { Told } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { open } from '../frame/route.ts'
import type { Spoken } from './useSpoken.ts'

export interface SpokenPanelProps {
  spoken: Spoken
  of: string
  /** What may be said, without an example: a figure that is read is too easily said. */
  hint?: string
  children: ComponentChildren
}

/**
 * What lies over the keys while somebody speaks: the level line, then what was understood. `of`: what is spoken of.
 * Nothing where nobody speaks.
 */
export function SpokenPanel({ spoken, of, hint = 'Where, what, the figure with its point, the unit.', children }: SpokenPanelProps) {
  const { phase } = spoken
  if (phase === 'still') return null
  return (
    <section class="said" aria-label={phase === 'proposed' ? 'Understood' : 'Listening'}>
      {phase === 'proposed' ? children : phase === 'working' ? <Working /> : <Listening spoken={spoken} of={of} hint={hint} />}
    </section>
  )
}

function Listening({ spoken, of, hint }: { spoken: Spoken; of: string; hint: string }) {
  const { recording, seconds, held, able } = spoken
  return (
    <>
      <p class="said-of">
        <strong>{of}</strong>
        <span class="figure">{minutes(seconds)}</span>
      </p>
      {recording ? <LevelLine stream={recording.stream} /> : <div class="level-line" />}
      <p role="status">
        {!recording ? 'One moment.' : held ? 'Listening. Let go when it is said.' : 'Listening. Touch again when it is said.'}
      </p>
      <p class="small soft">{able ? hint : 'It is kept as a recording; its text follows.'}</p>
    </>
  )
}

function Working() {
  return (
    <p class="said-working" role="status">
      Kept. What was said is being worked out.
    </p>
  )
}

/** What came of speaking where it came to no proposal; where the parts for hearing are missing, the way to them. */
export function SpokenTold({ spoken }: { spoken: Spoken }) {
  const { told, failed } = spoken
  if (failed.wrong) {
    return (
      <>
        <Told words={failed.words} wrong />
        <TakeOut files={failed.files} />
      </>
    )
  }
  if (!told.words) return null
  return (
    <div class={told.wrong ? 'said-told is-wrong' : 'said-told'} role="status">
      <span>{told.words}</span>
      {told.parts && (
        <button type="button" onClick={() => open('settings')}>
          Text at once
        </button>
      )}
    </div>
  )
}

/** The button to speak by, at the end of the acts where the thumb is. */
export function TalkAct({ spoken, name = 'Say it', off = false }: { spoken: Spoken; name?: string; off?: boolean }) {
  return (
    <TalkButton
      name={name}
      listening={spoken.listening}
      off={off || spoken.phase === 'working'}
      onBegin={spoken.begin}
      onEnd={spoken.end}
      onHeld={spoken.setHeld}
    />
  )
}
