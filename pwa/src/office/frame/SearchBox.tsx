import { signal } from '@preact/signals'
import { useEffect, useRef, useState } from 'preact/hooks'
import { useKeys } from './keys.ts'
import { go, route, set } from './route.ts'

/** Other words that the last search also looked for ('wrist pin' for 'gudgeon pin'). */
export const also = signal<string[]>([])
const PAUSE_MS = 220

/** The one search box: inside a job it narrows the record, elsewhere it looks through all jobs. */
export function SearchBox() {
  const box = useRef<HTMLInputElement>(null)
  const pause = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  const kept = route.value.values['q'] ?? ''
  const [words, setWords] = useState(kept)
  const inRecord = route.value.path[0] === 'job' && (route.value.path[2] ?? 'record') === 'record'

  useEffect(() => {
    if (document.activeElement !== box.current) setWords(kept)
  }, [kept])
  useKeys({ '/': () => box.current?.select() })

  const look = (q: string, everywhere = !inRecord) => {
    clearTimeout(pause.current)
    if (everywhere) go(['search'], { q: q.trim() }, route.value.path[0] === 'search')
    else set({ q: q.trim() || undefined, exhibit: undefined }, true)
  }
  const put = (q: string) => {
    setWords(q)
    clearTimeout(pause.current)
    if (inRecord || route.value.path[0] === 'search') pause.current = setTimeout(() => look(q), PAUSE_MS)
  }
  const typed = (event: KeyboardEvent) => {
    if (event.key === 'Enter') look(words, !inRecord || event.shiftKey)
    else if (event.key === 'Escape') {
      event.preventDefault()
      if (words) {
        setWords('')
        look('', false)
      }
      box.current?.blur()
    }
  }
  const shown = words && kept === words.trim() && also.value.length ? ` · also ${also.value.join(', ')}` : ''
  return (
    <search class="search">
      <svg viewBox="0 0 24 24" width="20" height="20" aria-hidden="true">
        <path
          d="M10 3.5a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13Zm4.8 11.3 6 6"
          fill="none"
          stroke="currentColor"
          stroke-width="2.4"
        />
      </svg>
      <div class="search-line">
        <input
          ref={box}
          type="search"
          aria-label={inRecord ? 'Search this job' : 'Search all jobs'}
          aria-keyshortcuts="/"
          placeholder={inRecord ? 'words in this job' : 'words in all jobs'}
          value={words}
          onInput={(event) => put(event.currentTarget.value)}
          onKeyDown={typed}
          autocomplete="off"
          spellcheck={false}
        />
        <span class="search-also" aria-hidden="true">
          <span class="search-echo">{words}</span>
          {shown}
        </span>
      </div>
      <span class="unseen" role="status">
        {shown && `Also searched: ${also.value.join(', ')}`}
      </span>
      {!words && <kbd aria-hidden="true">/</kbd>}
    </search>
  )
}
