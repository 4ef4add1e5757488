import type { ComponentChildren } from 'preact'
import { minutes } from '../../parts/media/AudioPlayer.tsx'
import { LevelLine } from '../../parts/figures/LevelLine.tsx'
import { TalkButton } from '../../parts/media/TalkButton.tsx'
import { StatusMessage } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { open } from '../frame/route.ts'
import type { Spoken } from './useSpoken.ts'
import { say } from '../frame/say.ts'
import './spoken.css'

export interface SpokenPanelProps {
  spoken: Spoken
  of: string
  /** What may be spoken, without an example: a figure that is read is too easily repeated. */
  hint?: string
  children: ComponentChildren
}

/**
 * What lies over the keys while somebody speaks: the level line, then what was understood. `of`: what is spoken of.
 * Nothing where nobody speaks.
 */
export function SpokenPanel({ spoken, of, hint = say('speaking.hint'), children }: SpokenPanelProps) {
  const { phase } = spoken
  if (phase === 'still') return null
  return (
    <section class="said thick-over" aria-label={phase === 'proposed' ? say('speaking.understood') : say('speaking.listening')}>
      {phase === 'proposed' ? children : phase === 'working' ? <Working /> : <Listening spoken={spoken} of={of} hint={hint} />}
    </section>
  )
}

function Listening({ spoken, of, hint }: { spoken: Spoken; of: string; hint: string }) {
  const { recording, seconds, held, able } = spoken
  return (
    <>
      <p class="said-of on-line ends">
        <strong>{of}</strong>
        <span class="figure">{minutes(seconds)}</span>
      </p>
      {recording ? <LevelLine stream={recording.stream} /> : <div class="level-line whole" />}
      <p role="status">
        {!recording ? say('speaking.opening') : held ? say('speaking.listening_held') : say('speaking.listening_touched')}
      </p>
      <p class="small soft">{able ? hint : say('speaking.recording_only')}</p>
    </>
  )
}

function Working() {
  return (
    <p class="said-working centred bold" role="status">
      {say('speaking.working')}
    </p>
  )
}

/** What came of speaking where it came to no proposal; where the parts for hearing are missing, the way to them. */
export function SpokenMessage({ spoken }: { spoken: Spoken }) {
  const { message, failed } = spoken
  if (failed.wrong) {
    return (
      <>
        <StatusMessage words={failed.words} wrong />
        <TakeOut files={failed.files} />
      </>
    )
  }
  if (!message.words) return null
  return (
    <div class={message.wrong ? 'said-told is-wrong' : 'said-told'} role="status">
      <span>{message.words}</span>
      {message.parts && (
        <button type="button" onClick={() => open('settings')}>
          {say('speaking.get_text_at_once')}
        </button>
      )}
    </div>
  )
}

/** The button to speak by, at the end of the acts where the thumb is. */
export function TalkAct({ spoken, name = say('speaking.say_it'), off = false }: { spoken: Spoken; name?: string; off?: boolean }) {
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
