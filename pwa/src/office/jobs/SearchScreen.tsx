import { useEffect, useRef, useState } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { get, query, ApiError } from '../frame/api.ts'
import { also } from '../frame/SearchBox.tsx'
import { Empty, Fault } from '../frame/Say.tsx'
import { Thumb } from '../frame/Thumb.tsx'
import { stageWords } from '../frame/stages.ts'
import { Hit } from '../recording/Hit.tsx'
import { phrasesOf } from '../recording/marked.ts'
import { address, go, route } from '../frame/route.ts'
import type { Item, JobLine, Page } from '../frame/shapes.ts'
import { count, day, shortClock } from '../frame/words.ts'
import { useRows } from './useRows.ts'

const PAGE = 40

/** Records of all jobs in which the words are found, newest first, and the jobs whose facts hold them. */
export function SearchScreen() {
  const q = route.value.values['q'] ?? ''
  const [page, setPage] = useState<Page | null>(null)
  const [jobs, setJobs] = useState<JobLine[]>([])
  const [fault, setFault] = useState('')
  const asking = useRef(0)

  const load = async (before?: string | number | null) => {
    const turn = (asking.current += 1)
    try {
      const told = await get<Page>(`/api/search${query({ q, before, limit: PAGE })}`)
      if (asking.current !== turn) return
      setPage((had) => (before && had ? { ...told, items: [...had.items, ...told.items] } : told))
      also.value = told.also ?? []
      setFault('')
    } catch (reason) {
      if (reason instanceof ApiError) setFault(reason.message)
    }
  }
  useEffect(() => {
    if (!q) {
      setPage(null)
      setJobs([])
      return
    }
    void load()
    get<{ jobs: JobLine[] }>(`/api/jobs${query({ q, limit: 8 })}`).then(
      (told) => setJobs(told.jobs),
      () => setJobs([]),
    )
  }, [q])

  const items = page?.items ?? []
  const { at, list } = useRows(items.length, (index) => openItem(items[index]!))
  const older = page?.next ?? page?.previous ?? null
  return (
    <section class="page search-page" aria-labelledby="search-title">
      <header class="page-head">
        <h1 id="search-title">{q ? `‘${q}’ in all jobs` : 'Search all jobs'}</h1>
        {page && <p role="status">{found(page)}</p>}
      </header>
      <Fault>{fault}</Fault>
      {!q && (
        <Empty>
          Write a word of the trade in the box above: a part, a condition, a name. Other names of the same part are
          found too.
        </Empty>
      )}
      {jobs.length > 0 && <JobsFound jobs={jobs} />}
      {page && items.length === 0 && (
        <Empty>No record holds these words. Try fewer, or another name for the part.</Empty>
      )}
      <ol class="found" ref={(line) => void (list.current = line)}>
        {items.map((item, index) => (
          <Found key={`${item.job?.id}-${item.id}`} item={item} chosen={index === at} sought={[...phrasesOf(q), ...(page?.also ?? [])]} />
        ))}
      </ol>
      {items.length > 0 && older !== null && (
        <button type="button" class="more" onClick={() => load(older)}>
          Earlier records
        </button>
      )}
    </section>
  )
}

function found(page: Page): string {
  const words = page.total ? count(page.total, 'record') : ''
  const more = page.also?.length ? `also searched: ${page.also.join(', ')}` : ''
  return [words, more].filter(Boolean).join(' · ')
}

function JobsFound({ jobs }: { jobs: JobLine[] }) {
  return (
    <ul class="jobs-found" aria-label="Jobs found">
      {jobs.map((job) => (
        <li key={job.id}>
          <a href={address(['job', job.id])}>
            <b>{job.number}</b> {job.vehicle} <span class="figure">{job.engine_number}</span>{' '}
            <i>{stageWords(job.stage)}</i>
          </a>
        </li>
      ))}
    </ul>
  )
}

function openItem(item: Item): void {
  if (item.job) go(['job', item.job.id], { exhibit: String(item.exhibit) })
}

function Found({ item, chosen, sought }: { item: Item; chosen: boolean; sought: string[] }) {
  const where = address(['job', item.job?.id ?? ''], { exhibit: String(item.exhibit) })
  return (
    <li data-at={chosen} class={item.withdrawn ? 'is-withdrawn' : undefined}>
      <a href={where}>
        <Thumb item={item} />
        <span class="found-job">
          <b>{item.job?.number}</b> {item.job?.vehicle}
        </span>
        <span class="found-line">
          <Balloon number={item.exhibit} small />
          <span>
            <b>{item.title}</b>
            {item.text && <span class="found-text">{item.text}</span>}
            {item.spoken?.text && <Hit note={item.spoken} sought={sought} />}
          </span>
        </span>
        <span class="found-when figure">
          {day(item.claimed)} {shortClock(item.claimed)} <span class="found-who">{item.author.name}</span>
        </span>
      </a>
    </li>
  )
}
