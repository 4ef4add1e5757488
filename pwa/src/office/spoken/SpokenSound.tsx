import { useRef, useState } from 'preact/hooks'
import { minutes } from '../../parts/AudioPlayer.tsx'
import { Pause, Play } from '../../parts/icons.tsx'
import { timed, type HeardWord } from '../../trade/timed_words.ts'
import { TimeRule } from './TimeRule.tsx'
import { usePlaying } from './usePlaying.ts'

interface Props {
  src: string
  /** As measured when it was made: browsers do not know the length of every format. */
  seconds: number
  name: string
  text: string
  /** What the recogniser heard whose words stand, with their times; empty where none has any. */
  words: readonly HeardWord[]
}

/** Below this share of certainty a word is marked as doubtful. */
const DOUBTFUL = 50

/** A recording with its words: the word that is heard is lit, and a word that is touched is heard. */
export function SpokenSound({ src, seconds, name, text, words }: Props) {
  const playing = usePlaying(src)
  const [pointed, setPointed] = useState<number | null>(null)
  const [stop, setStop] = useState(0)
  const line = useRef<HTMLParagraphElement>(null)
  const laid = timed(text, words)
  const doubtful = doubts(words)
  const lengthMs = Math.max(seconds * 1000, laid.at(-1)?.[2] ?? 0, playing.at, 100)

  const move = (event: KeyboardEvent, number: number) => {
    const to = { ArrowRight: number + 1, ArrowLeft: number - 1, Home: 0, End: laid.length - 1 }[event.key]
    if (to === undefined) return
    // The arrows belong to the words while one of them has the focus, not to the sheet.
    event.preventDefault()
    const next = Math.max(0, Math.min(laid.length - 1, to))
    setStop(next)
    line.current?.querySelectorAll('button')[next]?.focus()
  }
  return (
    <div class="spoken-sound" role="group" aria-label={name}>
      <audio {...playing.audio} />
      <div class="spoken-play">
        <button type="button" aria-label={playing.playing ? 'Pause' : 'Play'} onClick={playing.turn}>
          {playing.playing ? <Pause size={26} /> : <Play size={26} />}
        </button>
        <TimeRule lengthMs={lengthMs} at={playing.at} words={laid} pointed={pointed} seek={playing.seek} />
        <span class="figure spoken-clock">
          {minutes(playing.at / 1000)}/{minutes(lengthMs / 1000)}
        </span>
      </div>
      {playing.wrong && <p class="field-wrong">{playing.wrong}</p>}
      {laid.length > 0 ? (
        <p class="spoken-words" role="group" aria-label={`Word by word: ${text}`} ref={line} onMouseLeave={() => setPointed(null)}>
          {laid.map(([word, from, to], number) => {
            const lit = playing.at >= from && playing.at < Math.max(to, from + 1) && (playing.playing || playing.at > 0)
            return (
              <button
                key={number}
                type="button"
                class={`word${lit ? ' is-lit' : ''}${doubtful.has(from) ? ' is-doubtful' : ''}`}
                tabIndex={number === Math.min(stop, laid.length - 1) ? 0 : -1}
                title={`${(from / 1000).toFixed(1)} s${doubtful.has(from) ? ', the recogniser was in doubt' : ''}`}
                onClick={(event) => playing.playFrom(from, event.shiftKey ? to : null)}
                onKeyDown={(event) => move(event, number)}
                onFocus={() => {
                  setStop(number)
                  setPointed(number)
                }}
                onBlur={() => setPointed(null)}
                onMouseEnter={() => setPointed(number)}
              >
                {word}
              </button>
            )
          })}
        </p>
      ) : (
        text && <p class="spoken-words">{text}</p>
      )}
      {laid.some(([, from]) => doubtful.has(from)) && <p class="soft spoken-key">Dotted: the recogniser was in doubt.</p>}
    </div>
  )
}

/** The beginnings of the words that the recogniser was unsure of. */
function doubts(words: readonly HeardWord[]): Set<number> {
  return new Set(words.filter((one) => typeof one[3] === 'number' && one[3] < DOUBTFUL).map(([, from]) => from))
}
