import { differing } from '../../trade/spoken/timed_words.ts'
import { print } from '../frame/words.ts'
import { useSame } from './useSame.ts'
import type { SpokenItem } from './shapes.ts'
import { engineWords } from './words.ts'
import type { Note, Result } from '../frame/shapes.ts'

/** What each recogniser heard, one under the other; words that the standing text has not are marked. */
export function Heard({ item }: { item: SpokenItem }) {
  const note = item.spoken
  const alike = useSame(item)
  const same = (text: string) => alike.has(text)
  if (!note.results.length) return null
  return (
    <section class="heard" aria-labelledby="heard-title">
      <h3 id="heard-title">What each recogniser heard</h3>
      <ol>
        {note.results.map((result) => (
          <li key={`${result.engine} ${result.model_sha256}`}>
            <p class="heard-by">
              <b>{engineWords(result)}</b>
              <span>{result.text ? agreement(result, note, same(result.text)) : 'nothing'}</span>
            </p>
            {result.text && <p class="heard-words">{same(result.text) ? result.text : words(result.text, note.text)}</p>}
            <p class="heard-small">
              <span class="figure">
                {result.engine} {result.version}
              </span>
              , model {result.model} <span class="figure">{print(result.model_sha256)}</span>
              {result.denoised && ', after noise was taken out'}
              {`, its own score ${result.confidence} of 100`}
            </p>
          </li>
        ))}
      </ol>
    </section>
  )
}

function words(text: string, standing: string) {
  return differing(text, standing).map(([word, same], number) => (
    <>
      {number > 0 && ' '}
      {same ? word : <mark class="differs">{word}</mark>}
    </>
  ))
}

/** "word for word as above" or "3 words otherwise" */
function agreement({ text }: Result, note: Note, same: boolean): string {
  const apart = differing(text, note.text).filter(([, same]) => !same).length
  const missing = differing(note.text, text).filter(([, same]) => !same).length
  const most = Math.max(apart, missing)
  if (!most) return 'word for word as above'
  if (same) return 'the same in other words'
  return `${most} ${most === 1 ? 'word' : 'words'} otherwise`
}
