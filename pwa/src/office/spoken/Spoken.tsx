import { useEffect, useState } from 'preact/hooks'
import { get, query, ApiError } from '../frame/api.ts'
import { EmptyNotice, FaultNotice } from '../frame/notices.tsx'
import { useGet } from '../frame/useGet.ts'
import { useKeys } from '../frame/keys.ts'
import { address, route, set } from '../frame/route.ts'
import { List } from './List.tsx'
import { OwnWords } from './OwnWords.tsx'
import { Recognisers } from './Recognisers.tsx'
import { Progress } from './Progress.tsx'
import { Slip } from './Slip.tsx'
import type { SpokenItem } from './shapes.ts'
import { useTally } from './useTally.ts'
import { inOrder } from './words.ts'
import { say } from '../frame/say.ts'
import './spoken.css'

const PAGE = 100

interface Page {
  items: SpokenItem[]
  next: string | number | null
}

/** All recordings: those with a query first, then those not transcribed, then the rest. */
export function Spoken() {
  const [, leaf] = route.value.path
  if (leaf === 'words') return <OwnWords />
  if (leaf === 'recognisers') return <Recognisers />
  return <Recordings />
}

function Recordings() {
  const { state = '', job = '', sound = '' } = route.value.values
  const { tally, trouble, reload: count } = useTally()
  const { page, fault, turn, more, reload } = usePages(state, job, tally ? `${tally.transcribed} ${tally.waiting} ${tally.queries}` : '')
  const [front, setFront] = useState<'list' | 'slip'>(sound ? 'slip' : 'list')
  const items = inOrder(page?.items ?? [])
  const at = items.findIndex(({ id }) => id === sound)
  // A recording that was opened by its address may stand on a later page.
  const linked = useGet<SpokenItem>(page && sound && at < 0 ? `/api/entries/${sound}` : null).data
  const item = items[at] ?? (sound && linked?.id === sound ? linked : items[0])
  const open = (next: SpokenItem | undefined) => next && set({ sound: next.id }, true)
  const changed = () => {
    count()
    reload()
  }
  useKeys({
    ArrowDown: () => open(items[Math.max(at, 0) + 1]),
    j: () => open(items[Math.max(at, 0) + 1]),
    ArrowUp: () => open(items[at - 1]),
    k: () => open(items[at - 1]),
    Enter: () => setFront('slip'),
    Escape: () => setFront('list'),
    ' ': () => document.querySelector<HTMLElement>('.spoken-play button')?.click(),
  })
  const openSlip = (next: SpokenItem) => {
    open(next)
    setFront('slip')
  }
  return (
    <div class="spoken" data-front={front}>
      <h1 class="unseen">{say('spoken.title')}</h1>
      <section class="spoken-index" aria-label={say('spoken.notes')}>
        <Head />
        <Progress tally={tally} />
        <FaultNotice>{fault || trouble}</FaultNotice>
        <Filters state={state} job={job} />
        {page && items.length === 0 && <Nothing filtered={Boolean(state || job)} />}
        <List items={items} chosen={item?.id ?? ''} open={openSlip} />
        {page?.next != null && (
          <button type="button" class="more" onClick={more}>
            {say('spoken.earlier')}
          </button>
        )}
      </section>
      <div class="spoken-slip">
        {item && <Slip key={item.id} line={item} turn={turn} changed={changed} back={() => setFront('list')} />}
      </div>
    </div>
  )
}

function Head() {
  return (
    <header class="spoken-head on-line wrapped">
      <p class="spoken-title bold headline" aria-hidden="true">
        {say('spoken.title')}
      </p>
      <nav class="in-row" aria-label={say('spoken.title')}>
        <a href={address(['spoken', 'words'])}>{say('spoken.own_words')}</a>
        <a href={address(['spoken', 'recognisers'])}>{say('spoken.recognisers')}</a>
      </nav>
    </header>
  )
}

const STATES: [string, string][] = [
  ['', say('spoken.show_all')],
  ['query', say('spoken.show_query')],
  ['waiting', say('spoken.show_waiting')],
  ['differ', say('spoken.show_differ')],
  ['agree', say('spoken.show_agree')],
  ['text', say('spoken.show_text')],
  ['nothing', say('spoken.show_nothing')],
  ['confirmed', say('spoken.show_confirmed')],
]

function Filters({ state, job }: { state: string; job: string }) {
  return (
    <div class="narrow spoken-choose wraps">
      <label>
        <span>{say('spoken.show')}</span>
        <select value={state} onChange={(event) => set({ state: event.currentTarget.value || undefined, sound: undefined }, true)}>
          {STATES.map(([code, words]) => (
            <option key={code} value={code}>
              {words}
            </option>
          ))}
        </select>
      </label>
      {job && (
        <button type="button" class="tag" onClick={() => set({ job: undefined, sound: undefined }, true)}>
          {say('spoken.all_jobs')}
        </button>
      )}
    </div>
  )
}

function Nothing({ filtered }: { filtered: boolean }) {
  return <EmptyNotice>{filtered ? say('spoken.none_match') : say('spoken.none_yet')}</EmptyNotice>
}

/** The pages of the list; `key` changes when the tally does, and then the first page is fetched again. */
function usePages(state: string, job: string, key: string) {
  const [page, setPage] = useState<Page | null>(null)
  const [fault, setFault] = useState('')
  const [turn, setTurn] = useState(0)
  const [wanted, setWanted] = useState(0)
  const load = (after: string | number | null, stop?: AbortSignal) =>
    get<Page>(`/api/spoken${query({ state, job, after, limit: PAGE })}`, stop).then(
      (next) => {
        setPage((shown) => (after && shown ? { ...next, items: [...shown.items, ...next.items] } : next))
        setTurn((n) => n + 1)
        setFault('')
      },
      (reason) => reason instanceof ApiError && setFault(reason.message),
    )
  useEffect(() => {
    const stop = new AbortController()
    void load(null, stop.signal)
    return () => stop.abort()
  }, [state, job, key, wanted])
  return { page, fault, turn, more: () => void load(page?.next ?? null), reload: () => setWanted((n) => n + 1) }
}
