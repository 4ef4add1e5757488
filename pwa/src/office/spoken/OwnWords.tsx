import { useState } from 'preact/hooks'
import { ApiError } from '../frame/api.ts'
import { PageHead } from '../frame/PageHead.tsx'
import { Empty, Fault } from '../frame/Say.tsx'
import { useAsk } from '../frame/useAsk.ts'
import { address } from '../frame/route.ts'
import { isManager } from '../frame/session.ts'
import { dayAndClock, nameOf } from '../frame/words.ts'
import { soundsOf } from './example.ts'
import { meansWords } from './means.ts'
import { WordForm } from './WordForm.tsx'
import { sayWord } from './ownWord.ts'
import type { Word, WordsShown } from './shapes.ts'

/** The workshop's own words: what its engines and habits are called, so that phone and server listen for them. */
export function OwnWords() {
  const { told, trouble, again } = useAsk<WordsShown>('/api/spoken/words')
  const [editing, setEditing] = useState<Word | null>(null)
  const [fault, setFault] = useState('')
  const words = told?.words ?? []
  const sorted = [...words].sort((a, b) => Number(a.word.retired) - Number(b.word.retired) || (a.word.word < b.word.word ? -1 : 1))
  const say = (word: Word) => {
    setFault('')
    sayWord(word).then(again, (reason) => setFault(reason instanceof ApiError ? reason.message : String(reason)))
  }
  return (
    <section class="page narrow-page" aria-labelledby="words-title">
      <PageHead
        id="words-title"
        title="Own words"
        acts={
          <a class="act" href={address(['spoken'])}>
            Spoken
          </a>
        }
      />
      <p class="page-words">
        Names and habits of this workshop. Phone and server listen for them along with the words of the trade. How a word is said is shown by
        example: known words that sound like it.
      </p>
      <Fault>{fault || trouble?.message}</Fault>
      {told && words.length === 0 && <Empty>None yet. The words of the trade are known without being written here.</Empty>}
      {words.length > 0 && (
        <ul class="own-words">
          {sorted.map(({ word: one, author, received }) => (
            <li key={one.word} class={one.retired ? 'is-retired' : ''}>
              <p class="own-word">
                <b>{one.word}</b>
                {one.retired && <span class="soft"> no longer in use</span>}
              </p>
              <p>
                {one.sounds_like.length ? (
                  <>
                    said like{' '}
                    {one.sounds_like.map((phrase, number) => (
                      <span key={phrase}>
                        {number > 0 && ' or '}“{phrase}” <span class="figure soft own-sounds">{soundsOf(phrase)}</span>
                      </span>
                    ))}
                  </>
                ) : (
                  'said as it is written'
                )}
              </p>
              <p>{meansWords(one.means) ? `stands for ${meansWords(one.means)}` : 'stands only for itself'}</p>
              <p class="soft">
                {nameOf(author)}, {dayAndClock(received)}
              </p>
              {isManager.value && (
                <p class="acts">
                  <button type="button" class="plain" aria-label={`Change ${one.word}`} onClick={() => setEditing({ ...one, retired: false })}>
                    {one.retired ? 'Use again' : 'Change'}
                  </button>
                  {!one.retired && (
                    <button type="button" class="plain" aria-label={`Retire ${one.word}`} onClick={() => say({ ...one, retired: true })}>
                      Retire
                    </button>
                  )}
                </p>
              )}
            </li>
          ))}
        </ul>
      )}
      {isManager.value ? (
        <WordForm
          key={editing?.word ?? ''}
          start={editing ?? { word: '', sounds_like: [], means: '', retired: false }}
          taken={words.filter(({ word }) => !word.retired).map(({ word }) => word.word)}
          saved={() => {
            setEditing(null)
            again()
          }}
          leave={editing ? () => setEditing(null) : null}
        />
      ) : (
        <p class="soft">A manager adds to them.</p>
      )}
    </section>
  )
}
