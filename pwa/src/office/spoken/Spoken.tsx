import { useEffect, useState } from 'preact/hooks'
import { get, query, ApiError } from '../frame/api.ts'
import { Empty, Fault } from '../frame/Say.tsx'
import { useAsk } from '../frame/useAsk.ts'
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

const PAGE = 100

interface Page {
  items: SpokenItem[]
  next: string | number | null
}

/** All that was spoken: what waits for an answer first, then what waits for words, then the rest. */
export function Spoken() {
  const [, leaf] = route.value.path
  if (leaf === 'words') return <OwnWords />
  if (leaf === 'recognisers') return <Recognisers />
  return <Desk />
}

function Desk() {
  const { state = '', job = '', sound = '' } = route.value.values
  const { tally, trouble, again: count } = useTally()
  const { page, fault, turn, more, again } = usePages(state, job, tally ? `${tally.transcribed} ${tally.waiting} ${tally.queries}` : '')
  const [front, setFront] = useState<'list' | 'slip'>(sound ? 'slip' : 'list')
  const items = inOrder(page?.items ?? [])
  const at = items.findIndex(({ id }) => id === sound)
  // One that was sent by its address may stand on a later page.
  const sent = useAsk<SpokenItem>(page && sound && at < 0 ? `/api/entries/${sound}` : null).told
  const item = items[at] ?? (sound && sent?.id === sound ? sent : items[0])
  const open = (next: SpokenItem | undefined) => next && set({ sound: next.id }, true)
  const changed = () => {
    count()
    again()
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
  return (
    <div class="spoken" data-front={front}>
      <h1 class="unseen">Spoken</h1>
      <section class="spoken-index" aria-label="Spoken notes">
        <header class="spoken-head">
          <p class="spoken-title" aria-hidden="true">
            Spoken
          </p>
          <nav aria-label="Spoken">
            <a href={address(['spoken', 'words'])}>Own words</a>
            <a href={address(['spoken', 'recognisers'])}>Recognisers</a>
          </nav>
        </header>
        <Progress tally={tally} />
        <Fault>{fault || trouble}</Fault>
        <Choose state={state} job={job} />
        {page && items.length === 0 && <Nothing narrowed={Boolean(state || job)} />}
        <List
          items={items}
          chosen={item?.id ?? ''}
          open={(next) => {
            open(next)
            setFront('slip')
          }}
        />
        {page?.next != null && (
          <button type="button" class="more" onClick={more}>
            Earlier ones
          </button>
        )}
      </section>
      <div class="spoken-slip">
        {item && <Slip key={item.id} line={item} turn={turn} changed={changed} back={() => setFront('list')} />}
      </div>
    </div>
  )
}

const STATES: [string, string][] = [
  ['', 'everything spoken'],
  ['query', 'only what is to be answered'],
  ['waiting', 'only what is not transcribed'],
  ['differ', 'only where the recognisers differ'],
  ['agree', 'only where they agree'],
  ['text', 'only talk and notes'],
  ['nothing', 'only where nothing was understood'],
  ['confirmed', 'only what a person confirmed'],
]

function Choose({ state, job }: { state: string; job: string }) {
  return (
    <div class="narrow spoken-choose">
      <label>
        <span>shown</span>
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
          one job only: take off
        </button>
      )}
    </div>
  )
}

function Nothing({ narrowed }: { narrowed: boolean }) {
  if (narrowed) return <Empty>Nothing spoken is of this sort.</Empty>
  return <Empty>Nothing has been spoken yet. Hold ‘Say’ on a phone; what was said appears here once it has been received.</Empty>
}

/** The pages of the list; `key` changes when the tally does, and then the first page is read anew. */
function usePages(state: string, job: string, key: string) {
  const [page, setPage] = useState<Page | null>(null)
  const [fault, setFault] = useState('')
  const [turn, setTurn] = useState(0)
  const [wanted, setWanted] = useState(0)
  const load = (after: string | number | null, stop?: AbortSignal) =>
    get<Page>(`/api/spoken${query({ state, job, after, limit: PAGE })}`, stop).then(
      (told) => {
        setPage((had) => (after && had ? { ...told, items: [...had.items, ...told.items] } : told))
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
  return { page, fault, turn, more: () => void load(page?.next ?? null), again: () => setWanted((n) => n + 1) }
}
