import { useMemo } from 'preact/hooks'
import { minutes } from '../../parts/media/AudioPlayer.tsx'
import type { TimedWord } from './timed_words.ts'
import { graduations } from './rule.ts'
import { say } from '../frame/say.ts'

interface Props {
  lengthMs: number
  at: number
  words: TimedWord[]
  lit: number | null
  /** The word that is pointed at or has the focus. */
  pointed: number | null
  seek: (ms: number) => void
}

/** A recording as a rule laid along its time: graduations in seconds, a block for each word, a pointer where it is. */
export function TimeRule({ lengthMs, at, words, lit, pointed, seek }: Props) {
  const share = (ms: number) => `${((100 * Math.min(ms, lengthMs)) / lengthMs).toFixed(3)}%`
  const { ticks, labels } = useMemo(() => graduations(lengthMs), [lengthMs])
  const blocks = useMemo(
    () =>
      words.map(([word, from, to], number) => (
        <span
          key={number}
          class={`rule-word${number === lit ? ' is-lit' : ''}${pointed === number ? ' is-pointed' : ''}`}
          style={{ left: share(from), width: share(Math.max(to - from, 20)) }}
          title={word}
          aria-hidden="true"
        />
      )),
    [words, lengthMs, lit, pointed],
  )
  return (
    <div class="time-rule framed">
      <svg class="laid-over" aria-hidden="true" width="100%" height="100%">
        {ticks.map(({ ms, long }) => (
          <line class="ink-line" key={ms} x1={share(ms)} x2={share(ms)} y1="0" y2={long ? 15 : 8} />
        ))}
      </svg>
      {labels.map(({ ms, words: label }) => (
        <span key={ms} class="rule-label figure soft tiny" style={{ left: share(ms) }} aria-hidden="true">
          {label}
        </span>
      ))}
      {blocks}
      <span class="rule-at" style={{ left: share(at) }} aria-hidden="true" />
      <input
        type="range"
        min="0"
        max={lengthMs}
        step="50"
        value={at}
        aria-label={say('spoken.position')}
        aria-valuetext={say('spoken.position_of', { at: minutes(at / 1000), length: minutes(lengthMs / 1000) })}
        onInput={(event) => seek(Number(event.currentTarget.value))}
      />
    </div>
  )
}
