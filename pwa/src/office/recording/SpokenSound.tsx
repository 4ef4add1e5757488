import { useMemo, useState } from 'preact/hooks'
import { minutes } from '../../parts/media/AudioPlayer.tsx'
import { Pause, Play } from '../../parts/controls/icons.tsx'
import { timed, type HeardWord } from './timed_words.ts'
import { TimeRule } from './TimeRule.tsx'
import { usePlaying } from './usePlaying.ts'
import { WordLine } from './WordLine.tsx'
import { litAt } from './rule.ts'
import { say } from '../frame/say.ts'
import '../spoken/sound.css'

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

/** A recording with its words: the word being played is lit, and a word that is touched is played. */
export function SpokenSound({ src, seconds, name, text, words }: Props) {
  const playing = usePlaying(src)
  const [pointed, setPointed] = useState<number | null>(null)
  const laid = useMemo(() => timed(text, words), [text, words])
  const doubtful = useMemo(() => doubts(words), [words])
  const lit = playing.playing || playing.at > 0 ? litAt(laid, playing.at) : null
  const lengthMs = Math.max(seconds * 1000, laid.at(-1)?.[2] ?? 0, playing.at, 100)
  return (
    <div class="spoken-sound" role="group" aria-label={name}>
      <audio {...playing.audio} />
      <div class="spoken-play">
        <button class="centred" type="button" aria-label={playing.playing ? say('spoken.pause') : say('spoken.play')} onClick={playing.turn}>
          {playing.playing ? <Pause size={26} /> : <Play size={26} />}
        </button>
        <TimeRule lengthMs={lengthMs} at={playing.at} words={laid} lit={lit} pointed={pointed} seek={playing.seek} />
        <span class="figure spoken-clock">
          {minutes(playing.at / 1000)}/{minutes(lengthMs / 1000)}
        </span>
      </div>
      {playing.wrong && <p class="field-wrong">{playing.wrong}</p>}
      {laid.length > 0 ? (
        <WordLine text={text} words={laid} doubtful={doubtful} lit={lit} point={setPointed} playFrom={playing.playFrom} />
      ) : (
        text && <p class="spoken-words breaks above-6">{text}</p>
      )}
      {laid.some(([, from]) => doubtful.has(from)) && <p class="soft small above-2">{say('spoken.dotted')}</p>}
    </div>
  )
}

/** The beginnings of the words that the recogniser was unsure of. */
function doubts(words: readonly HeardWord[]): Set<number> {
  return new Set(words.filter((word) => typeof word[3] === 'number' && word[3] < DOUBTFUL).map(([, from]) => from))
}
