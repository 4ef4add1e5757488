import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError } from '../frame/api.ts'
import { listed } from '../../trade/ground/sentences.ts'
import { DoneNotice, FaultNotice } from '../frame/notices.tsx'
import { near, soundsOf, unknownIn } from './example.ts'
import { MEANINGS, separated } from './means.ts'
import { saveWord } from './ownWord.ts'
import type { Word } from './shapes.ts'
import { say } from '../frame/say.ts'

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
  const [[sort, code], setMeans] = useState(separated(start.means))
  const [fault, setFault] = useState('')
  const [done, setDone] = useState('')
  const phrases = like.split('\n').map((line) => line.trim()).filter(Boolean)

  const save = async (event: Event) => {
    event.preventDefault()
    setDone('')
    const wrong = wordFault(word.trim(), phrases, leave ? [] : taken) || (sort && !code ? say('spoken.meaning_needed') : '')
    setFault(wrong)
    if (wrong) return
    try {
      await saveWord({ word: word.trim(), sounds_like: phrases, means: sort ? `${sort}:${code}` : '', retired: false })
      setDone(say('spoken.word_saved', { word: word.trim() }))
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
    <section aria-labelledby="word-form-title">
      <h2 class="below-4" id="word-form-title">{leave ? say('spoken.change_title', { word: start.word }) : say('spoken.add_word_title')}</h2>
      <form noValidate class="block halves" onSubmit={save}>
        <Field label={say('spoken.word')} value={word} onValue={setWord} needed hint={say('spoken.word_hint')} />
        <ExampleField value={like} phrases={phrases} put={setLike} />
        <MeaningFields sort={sort} code={code} put={setMeans} />
        <FaultNotice>{fault}</FaultNotice>
        <div class="acts">
          <button class="main-act">{leave ? say('common.save') : say('spoken.add_word')}</button>
          {leave && (
            <button type="button" class="plain" onClick={leave}>
              {say('common.cancel')}
            </button>
          )}
        </div>
        <DoneNotice>{done}</DoneNotice>
      </form>
    </section>
  )
}

/** What is wrong with a word and its example; '' when nothing is. */
function wordFault(word: string, phrases: string[], taken: string[]): string {
  if (!word) return say('spoken.word_needed')
  if (taken.some((other) => other.toLowerCase() === word.toLowerCase())) return say('spoken.word_taken', { word })
  if (phrases.some((phrase) => unknownIn(phrase).length)) return say('spoken.example_wrong')
  // A known word is pronounced as it is written; any other needs an example.
  const unknown = phrases.length ? undefined : unknownIn(word)[0]
  return unknown === undefined ? '' : say('spoken.example_needed', { word: unknown })
}

/** Known words that sound like it, one pronunciation on each line. */
function ExampleField({ value, phrases, put }: { value: string; phrases: string[]; put: (text: string) => void }) {
  const unknown = [...new Set(phrases.flatMap(unknownIn))]
  const sounds = phrases.map(soundsOf).filter(Boolean)
  return (
    <Field
      label={say('spoken.sounds_like_label')}
      value={value}
      onValue={put}
      lines={2}
      wrong={unknown.length ? unknownWords(unknown) : ''}
      hint={sounds.length ? say('spoken.sounds', { sounds: listed(sounds) }) : say('spoken.sounds_like_hint')}
    />
  )
}

interface MeaningProps {
  sort: string
  code: string
  put: (means: [sort: string, code: string]) => void
}

function MeaningFields({ sort, code, put }: MeaningProps) {
  const meaning = MEANINGS.find((choice) => choice.sort === sort)!
  return (
    <>
      <Field
        label={say('spoken.stands_for_label')}
        value={sort}
        onValue={(next) => put([next, ''])}
        options={MEANINGS.map((choice) => ({ value: choice.sort, words: choice.words }))}
      />
      {meaning.of.length > 0 && (
        <Field
          label={say('spoken.which')}
          value={code}
          onValue={(next) => put([sort, next])}
          options={[{ value: '', words: say('common.choose') }, ...meaning.of]}
        />
      )}
    </>
  )
}

function unknownWords(words: string[]): string {
  const sentences = words.map((word) => {
    const close = near(word)
    return close.length ? say('spoken.unknown_near', { word, words: listed(close) }) : say('spoken.unknown', { word })
  })
  return `${sentences.join(' ')} ${say('spoken.use_known_words')}`
}
