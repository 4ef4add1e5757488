import { differing } from '../../trade/timed_words.ts'
import { print } from '../words.ts'
import type { Note, Result } from './shapes.ts'
import { engineWords } from './words.ts'

/** What each recogniser heard, one under the other; words that the standing text has not are marked. */
export function Heard({ note }: { note: Note }) {
  if (!note.results.length) return null
  return (
    <section class="heard" aria-labelledby="heard-title">
      <h3 id="heard-title">What each recogniser heard</h3>
      <ol>
        {note.results.map((result) => (
          <li key={`${result.engine} ${result.model_sha256}`}>
            <p class="heard-by">
              <b>{engineWords(result)}</b>
              <span>{result.text ? agreement(result, note) : 'nothing'}</span>
            </p>
            {result.text && <p class="heard-words">{words(result.text, note.text)}</p>}
            <p class="heard-small">
              <span class="figure">
                {result.engine} {result.version}
              </span>
              , model {result.model} <span class="figure">{print(result.model_sha256)}</span>
              {result.denoised && ', after noise was taken out'}
              {`, sure to ${result.confidence} %`}
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

/** "as above" or "3 words otherwise" */
function agreement({ text }: Result, note: Note): string {
  const apart = differing(text, note.text).filter(([, same]) => !same).length
  const missing = differing(note.text, text).filter(([, same]) => !same).length
  const most = Math.max(apart, missing)
  if (!most) return 'word for word as above'
  return `${most} ${most === 1 ? 'word' : 'words'} otherwise`
}
