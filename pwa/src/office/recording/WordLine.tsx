import { useMemo, useRef, useState } from 'preact/hooks'
import type { TimedWord } from './timed_words.ts'
import { say } from '../frame/say.ts'

interface Props {
  text: string
  words: TimedWord[]
  /** Beginnings of words that the recogniser was unsure of. */
  doubtful: Set<number>
  lit: number | null
  point: (number: number | null) => void
  playFrom: (ms: number, stop: number | null) => void
}

/** The words of a recording, each to be touched; one stop of the tab key, then the arrows go from word to word. */
export function WordLine({ text, words, doubtful, lit, point, playFrom }: Props) {
  const line = useRef<HTMLParagraphElement>(null)
  const [stop, setStop] = useState(0)
  const move = (event: KeyboardEvent, number: number) => {
    const to = { ArrowRight: number + 1, ArrowLeft: number - 1, Home: 0, End: words.length - 1 }[event.key]
    if (to === undefined) return
    // The arrows belong to the words while one of them has the focus, not to the sheet.
    event.preventDefault()
    const next = Math.max(0, Math.min(words.length - 1, to))
    setStop(next)
    line.current?.querySelectorAll('button')[next]?.focus()
  }
  // A recording moves sixty times a second; an hour of words is drawn again only when another word is lit.
  return useMemo(
    () => (
      <p class="spoken-words breaks above-6" role="group" aria-label={say('spoken.word_by_word', { text })} ref={line} onMouseLeave={() => point(null)}>
        {words.map(([word, from, to], number) => {
          const unsure = doubtful.has(from)
          return (
            <button
              key={number}
              type="button"
              class={`close-set said-word${number === lit ? ' is-lit' : ''}${unsure ? ' is-doubtful' : ''}`}
              tabIndex={number === Math.min(stop, words.length - 1) ? 0 : -1}
              title={unsure ? say('spoken.word_at_unsure', { seconds: (from / 1000).toFixed(1) }) : say('spoken.word_at', { seconds: (from / 1000).toFixed(1) })}
              onClick={(event) => playFrom(from, event.shiftKey ? to : null)}
              onKeyDown={(event) => move(event, number)}
              onFocus={() => {
                setStop(number)
                point(number)
              }}
              onBlur={() => point(null)}
              onMouseEnter={() => point(number)}
            >
              {word}
            </button>
          )
        })}
      </p>
    ),
    [text, words, doubtful, lit, stop],
  )
}
