import { signal } from '@preact/signals'
import { useEffect, useRef, useState } from 'preact/hooks'
import { useKeys } from './keys.ts'
import { go, route, set } from './route.ts'
import { say } from './say.ts'

/** Other words that the last search also looked for ('wrist pin' for 'gudgeon pin'). */
export const also = signal<string[]>([])
const PAUSE_MS = 220

/** The search box: inside a job it filters the record, elsewhere it searches all jobs. */
export function SearchBox() {
  const box = useRef<HTMLInputElement>(null)
  const pause = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  const searched = route.value.values['q'] ?? ''
  const [words, setWords] = useState(searched)
  const inRecord = route.value.path[0] === 'job' && (route.value.path[2] ?? 'record') === 'record'

  useEffect(() => {
    if (document.activeElement !== box.current) setWords(searched)
  }, [searched])
  useKeys({ '/': () => box.current?.select() })

  const search = (q: string, everywhere = !inRecord) => {
    clearTimeout(pause.current)
    if (everywhere) go(['search'], { q: q.trim() }, route.value.path[0] === 'search')
    else set({ q: q.trim() || undefined, exhibit: undefined }, true)
  }
  const onInput = (q: string) => {
    setWords(q)
    clearTimeout(pause.current)
    if (inRecord || route.value.path[0] === 'search') pause.current = setTimeout(() => search(q), PAUSE_MS)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter') return search(words, !inRecord || event.shiftKey)
    if (event.key !== 'Escape') return
    event.preventDefault()
    if (words) {
      setWords('')
      search('', false)
    }
    box.current?.blur()
  }
  const synonyms = words && searched === words.trim() ? also.value.join(', ') : ''
  return (
    <search class="search along">
      <Magnifier />
      <div class="search-line rest">
        <input
          ref={box}
          type="search"
          aria-label={inRecord ? say('frame.search_this_job') : say('frame.search_all_jobs')}
          aria-keyshortcuts="/"
          placeholder={inRecord ? say('frame.words_in_this_job') : say('frame.words_in_all_jobs')}
          value={words}
          onInput={(event) => onInput(event.currentTarget.value)}
          onKeyDown={onKeyDown}
          autocomplete="off"
          spellcheck={false}
        />
        <Synonyms after={words} words={synonyms} />
      </div>
      {!words && <kbd aria-hidden="true">/</kbd>}
    </search>
  )
}

/** The synonyms that were searched for as well, behind what is typed. */
function Synonyms({ after, words }: { after: string; words: string }) {
  return (
    <>
      <span class="search-also laid-over soft" aria-hidden="true">
        <span class="search-echo">{after}</span>
        {words && ` · ${say('frame.search_also', { words })}`}
      </span>
      <span class="unseen" role="status">
        {words && say('frame.search_also_status', { words })}
      </span>
    </>
  )
}

function Magnifier() {
  return (
    <svg viewBox="0 0 24 24" width="20" height="20" aria-hidden="true">
      <path d="M10 3.5a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13Zm4.8 11.3 6 6" fill="none" stroke="currentColor" stroke-width="2.4" />
    </svg>
  )
}
