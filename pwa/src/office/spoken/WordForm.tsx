import { useState } from 'preact/hooks'
import { ApiError } from '../frame/api.ts'
import { DoneNotice } from '../frame/notices.tsx'
import { SchemaForm } from '../registers/form/SchemaForm.tsx'
import { saveWord } from './ownWord.ts'
import type { Word } from './shapes.ts'
import { say } from '../frame/say.ts'
import { exampleFault, typedFrom, WORD_FIELDS, wordFault, wordFrom } from './word_fields.ts'

interface Props {
  start: Word
  taken: string[]
  saved: () => void
  /** Leaves a word that is being changed; null when a new one is written. */
  leave: (() => void) | null
}

/** A word of the workshop's own: how it is written, what it sounds like by example, what it stands for. */
export function WordForm({ start, taken, saved, leave }: Props) {
  const [typed, setTyped] = useState(() => typedFrom(start))
  const [fault, setFault] = useState('')
  const [done, setDone] = useState('')

  const save = async () => {
    setDone('')
    const wrong = wordFault(typed, leave ? [] : taken)
    setFault(wrong)
    if (wrong) return
    const word = wordFrom(typed)
    try {
      await saveWord(word)
      setDone(say('spoken.word_saved', { word: word.word }))
      if (!leave) setTyped(typedFrom({ word: '', sounds_like: [], means: '', retired: false }))
      saved()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  return (
    <section aria-labelledby="word-form-title">
      <h2 class="below-4" id="word-form-title">{leave ? say('spoken.change_title', { word: start.word }) : say('spoken.add_word_title')}</h2>
      <SchemaForm
        fields={WORD_FIELDS}
        typed={typed}
        sound={!fault}
        wrong={(field) => (field === 'example' ? exampleFault(typed) : '')}
        put={(changes) => setTyped({ ...typed, ...changes })}
        fault={fault}
        submit={leave ? say('common.save') : say('spoken.add_word')}
        onSubmit={save}
        onCancel={leave ?? undefined}
      >
        <DoneNotice>{done}</DoneNotice>
      </SchemaForm>
    </section>
  )
}
