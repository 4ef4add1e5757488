import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError } from '../frame/api.ts'
import { Done, Fault } from '../frame/Say.tsx'
import { listed } from '../frame/words.ts'
import { near, soundsOf, unknownIn } from './example.ts'
import { MEANINGS, parted } from './means.ts'
import { sayWord } from './ownWord.ts'
import type { Word } from './shapes.ts'

interface Props {
  start: Word
  taken: string[]
  saved: () => void
  /** Leaves a word that is being changed; null when a new one is written. */
  leave: (() => void) | null
}

/** A word of the workshop's own: how it is written, what it sounds like by example, what it stands for. */
export function WordForm({ start, taken, saved, leave }: Props) {
  const [word, setWord] = useState(start.word)
  const [like, setLike] = useState(start.sounds_like.join('\n'))
  const [[sort, code], setMeans] = useState(parted(start.means))
  const [fault, setFault] = useState('')
  const [done, setDone] = useState('')
  const phrases = like.split('\n').map((line) => line.trim()).filter(Boolean)
  const unknown = [...new Set(phrases.flatMap(unknownIn))]
  const meaning = MEANINGS.find((one) => one.sort === sort)!
  // A word that is known is said as it is written; any other needs an example.
  const alone = word.trim() && !phrases.length ? unknownIn(word) : []
  const sounds = phrases.map(soundsOf).filter(Boolean)

  const keep = async (event: Event) => {
    event.preventDefault()
    setDone('')
    if (!word.trim()) return setFault('Write the word first.')
    if (!leave && taken.some((one) => one.toLowerCase() === word.trim().toLowerCase()))
      return setFault(`‘${word.trim()}’ is among the words already. Change it there.`)
    if (unknown.length) return setFault('Put the example right first: every word of it must be known.')
    if (alone.length) return setFault(`Nobody knows how ‘${alone[0]}’ is said. Write known words that sound like it.`)
    if (sort && !code) return setFault('Choose what it stands for.')
    setFault('')
    try {
      await sayWord({ word: word.trim(), sounds_like: phrases, means: sort ? `${sort}:${code}` : '', retired: false })
      setDone(`‘${word.trim()}’ is listened for from now on; phones learn it when they next reach the server.`)
      if (!leave) {
        setWord('')
        setLike('')
        setMeans(['', ''])
      }
      saved()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  return (
    <section class="word-form" aria-labelledby="word-form-title">
      <h2 id="word-form-title">{leave ? `Change ‘${start.word}’` : 'Add a word'}</h2>
      <form noValidate class="block" onSubmit={keep}>
        <Field label="Word" value={word} onValue={setWord} needed hint="As it is written in the record." />
        <Field
          label="Said like"
          value={like}
          onValue={setLike}
          lines={2}
          wrong={unknown.length ? unknownWords(unknown) : ''}
          hint={sounds.length ? `Listened for as ${listed(sounds)}` : 'Known words that sound like it, one way of saying it on each line.'}
        />
        <Field
          label="Stands for"
          value={sort}
          onValue={(next) => setMeans([next, ''])}
          options={MEANINGS.map((one) => ({ value: one.sort, words: one.words }))}
        />
        {meaning.of.length > 0 && (
          <Field
            label="Which"
            value={code}
            onValue={(next) => setMeans([sort, next])}
            options={[{ value: '', words: 'choose' }, ...meaning.of]}
          />
        )}
        <Fault>{fault}</Fault>
        <div class="acts">
          <button class="main-act">{leave ? 'Keep it so' : 'Add the word'}</button>
          {leave && (
            <button type="button" class="plain" onClick={leave}>
              Leave
            </button>
          )}
        </div>
        <Done>{done}</Done>
      </form>
    </section>
  )
}

function unknownWords(words: string[]): string {
  const said = words.map((word) => {
    const close = near(word)
    return `‘${word}’ is not known${close.length ? `; near it are ${listed(close)}` : ''}.`
  })
  return `${said.join(' ')} Use known words.`
}
