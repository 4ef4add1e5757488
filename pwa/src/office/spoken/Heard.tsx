import { differing } from '../recording/timed_words.ts'
import { print } from '../frame/words.ts'
import { useSame } from './useSame.ts'
import type { SpokenItem } from './shapes.ts'
import { engineWords } from './words.ts'
import type { Note, Result } from '../frame/shapes.ts'
import { say } from '../frame/say.ts'

/** What each recogniser heard, one under the other; words that differ from the text in force are marked. */
export function Heard({ item }: { item: SpokenItem }) {
  const note = item.spoken
  const alike = useSame(item)
  const same = (text: string) => alike.has(text)
  if (!note.results.length) return null
  return (
    <section class="heard" aria-labelledby="heard-title">
      <h3 id="heard-title">{say('spoken.heard_title')}</h3>
      <ol class="ruled thick-over">
        {note.results.map((result) => (
          <li key={`${result.engine} ${result.model_sha256}`}>
            <p class="heard-by wraps ends">
              <b>{engineWords(result)}</b>
              <span>{result.text ? agreement(result, note, same(result.text)) : say('spoken.heard_nothing')}</span>
            </p>
            {result.text && <p class="larger">{same(result.text) ? result.text : words(result.text, note.text)}</p>}
            <p class="heard-small soft small breaks">
              <span class="figure">
                {result.engine} {result.version}
              </span>
              , {say('spoken.model', { model: result.model })} <span class="figure">{print(result.model_sha256)}</span>
              {result.denoised && `, ${say('spoken.noise_reduced')}`}, {say('spoken.own_score', { score: String(result.confidence) })}
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

/** "the same words" or "3 words differ" */
function agreement({ text }: Result, note: Note, same: boolean): string {
  const apart = differing(text, note.text).filter(([, same]) => !same).length
  const missing = differing(note.text, text).filter(([, same]) => !same).length
  const most = Math.max(apart, missing)
  if (!most) return say('spoken.same_words')
  if (same) return say('spoken.same_meaning')
  return say('spoken.words_differ', { count: most })
}
