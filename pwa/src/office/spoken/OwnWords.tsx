import { useState } from 'preact/hooks'
import { ApiError } from '../frame/api.ts'
import { PageHead } from '../frame/PageHead.tsx'
import { EmptyNotice, FaultNotice } from '../frame/notices.tsx'
import { useGet } from '../frame/useGet.ts'
import { address } from '../frame/route.ts'
import { isManager } from '../frame/session.ts'
import { dayAndClock, nameOf } from '../frame/words.ts'
import { soundsOf } from './example.ts'
import { meansWords } from './means.ts'
import type { Word } from './shapes.ts'
import { saveWord } from './ownWord.ts'
import { WordForm } from './WordForm.tsx'
import { say } from '../frame/say.ts'
import { Named } from '../frame/shapes.ts'
import './words.css'

interface WordSet {
  entry: string
  word: Word
  author: Named
  received: string
}

/** The workshop's own words: what its engines and methods are called, so that phone and server recognise them. */
export function OwnWords() {
  const { data: answer, error, reload } = useGet<{ words: WordSet[] }>('/api/spoken/words')
  const [editing, setEditing] = useState<Word | null>(null)
  const [fault, setFault] = useState('')
  const words = answer?.words ?? []
  const sorted = [...words].sort((a, b) => Number(a.word.retired) - Number(b.word.retired) || (a.word.word < b.word.word ? -1 : 1))
  const retire = (word: Word) => {
    setFault('')
    saveWord({ ...word, retired: true }).then(reload, (reason) => setFault(reason instanceof ApiError ? reason.message : String(reason)))
  }
  const saved = () => {
    setEditing(null)
    reload()
  }
  return (
    <section class="page narrow-page" aria-labelledby="words-title">
      <PageHead id="words-title" title={say('spoken.own_words')} acts={<ToSpoken />} />
      <p class="page-words">{say('spoken.own_words_help')}</p>
      <FaultNotice>{fault || error?.message}</FaultNotice>
      {answer && words.length === 0 && <EmptyNotice>{say('spoken.no_own_words')}</EmptyNotice>}
      {words.length > 0 && (
        <ul class="own-words ruled thick-over">
          {sorted.map((set) => (
            <WordLine
              key={set.word.word}
              set={set}
              change={() => setEditing({ ...set.word, retired: false })}
              retire={() => retire(set.word)}
            />
          ))}
        </ul>
      )}
      {isManager.value ? (
        <WordForm
          key={editing?.word ?? ''}
          start={editing ?? { word: '', sounds_like: [], means: '', retired: false }}
          taken={words.filter(({ word }) => !word.retired).map(({ word }) => word.word)}
          saved={saved}
          leave={editing ? () => setEditing(null) : null}
        />
      ) : (
        <p class="soft">{say('spoken.manager_adds')}</p>
      )}
    </section>
  )
}

/** The way back to the recordings. */
export function ToSpoken() {
  return (
    <a class="act" href={address(['spoken'])}>
      {say('spoken.title')}
    </a>
  )
}

/** One word: how it is written and pronounced, what it stands for, who added it. */
function WordLine({ set, change, retire }: { set: WordSet; change: () => void; retire: () => void }) {
  const { word, sounds_like, means, retired } = set.word
  return (
    <li class={retired ? 'is-retired' : ''}>
      <p class="own-word larger">
        <b>{word}</b>
        {retired && <span class="soft"> {say('spoken.retired')}</span>}
      </p>
      <p>{sounds_like.length ? <Pronounced phrases={sounds_like} /> : say('spoken.as_written')}</p>
      <p>{meansWords(means) ? say('spoken.stands_for', { meaning: meansWords(means) }) : say('spoken.stands_for_itself')}</p>
      <p class="soft">
        {nameOf(set.author)}, {dayAndClock(set.received)}
      </p>
      {isManager.value && (
        <p class="acts">
          <button type="button" class="plain" aria-label={say('spoken.change_word', { word })} onClick={change}>
            {retired ? say('spoken.use_again') : say('common.change')}
          </button>
          {!retired && (
            <button type="button" class="plain" aria-label={say('spoken.retire_word', { word })} onClick={retire}>
              {say('spoken.retire')}
            </button>
          )}
        </p>
      )}
    </li>
  )
}

/** The known words that a word sounds like, with their sounds. */
function Pronounced({ phrases }: { phrases: string[] }) {
  return (
    <>
      {say('spoken.sounds_like')}{' '}
      {phrases.map((phrase, number) => (
        <span key={phrase}>
          {number > 0 && ` ${say('spoken.or')} `}“{phrase}” <span class="figure soft own-sounds own-line small">{soundsOf(phrase)}</span>
        </span>
      ))}
    </>
  )
}
