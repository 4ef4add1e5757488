import { useEffect, useRef, useState } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { get, query, ApiError } from '../frame/api.ts'
import { also } from '../frame/SearchBox.tsx'
import { EmptyNotice, FaultNotice } from '../frame/notices.tsx'
import { Thumb } from '../frame/Thumb.tsx'
import { stageWords } from '../frame/stages.ts'
import { Hit } from '../recording/Hit.tsx'
import { phrasesOf } from '../recording/marked.ts'
import { address, go, route } from '../frame/route.ts'
import type { Item, JobLine, Page } from '../frame/shapes.ts'
import { day, shortClock } from '../frame/words.ts'
import { useRows } from './useRows.ts'
import { say } from '../frame/say.ts'
import './search.css'

const PAGE = 40

/** Records of all jobs in which the words stand, newest first, and the jobs whose details hold them. */
export function SearchScreen() {
  const q = route.value.values['q'] ?? ''
  const { page, jobs, fault, load } = useSearch(q)
  const items = page?.items ?? []
  const { at, list } = useRows(items.length, (index) => openItem(items[index]!))
  const older = page?.next ?? page?.previous ?? null
  return (
    <section class="page search-page" aria-labelledby="search-title">
      <header class="page-head along wrapped">
        <h1 id="search-title">{q ? say('jobs.search_for', { words: q }) : say('jobs.search_title')}</h1>
        {page && <p role="status">{resultWords(page)}</p>}
      </header>
      <FaultNotice>{fault}</FaultNotice>
      {!q && <EmptyNotice>{say('jobs.search_help')}</EmptyNotice>}
      {jobs.length > 0 && <MatchingJobs jobs={jobs} />}
      {page && items.length === 0 && <EmptyNotice>{say('jobs.search_no_record')}</EmptyNotice>}
      <ol class="found thick-over" ref={(line) => void (list.current = line)}>
        {items.map((item, index) => (
          <MatchingRecord key={`${item.job?.id}-${item.id}`} item={item} chosen={index === at} sought={[...phrasesOf(q), ...(page?.also ?? [])]} />
        ))}
      </ol>
      {items.length > 0 && older !== null && (
        <button type="button" class="more" onClick={() => load(older)}>
          {say('jobs.search_earlier')}
        </button>
      )}
    </section>
  )
}

/** The records and jobs that answer a search; `load` fetches the page of records before a position. */
function useSearch(q: string) {
  const [page, setPage] = useState<Page | null>(null)
  const [jobs, setJobs] = useState<JobLine[]>([])
  const [fault, setFault] = useState('')
  // Answers that are overtaken by a newer question are dropped.
  const newest = useRef(0)

  const load = async (before?: string | number | null) => {
    const turn = (newest.current += 1)
    try {
      const next = await get<Page>(`/api/search${query({ q, before, limit: PAGE })}`)
      if (newest.current !== turn) return
      setPage((shown) => (before && shown ? { ...next, items: [...shown.items, ...next.items] } : next))
      also.value = next.also ?? []
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
      (answer) => setJobs(answer.jobs),
      () => setJobs([]),
    )
  }, [q])
  return { page, jobs, fault, load }
}

function resultWords(page: Page): string {
  const words = page.total ? say('jobs.search_records', { count: page.total }) : ''
  const more = page.also?.length ? say('jobs.search_also', { words: page.also.join(', ') }) : ''
  return [words, more].filter(Boolean).join(' · ')
}

function MatchingJobs({ jobs }: { jobs: JobLine[] }) {
  return (
    <ul class="jobs-found wraps" aria-label={say('jobs.search_jobs')}>
      {jobs.map((job) => (
        <li key={job.id}>
          <a class="own-line" href={address(['job', job.id])}>
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

function MatchingRecord({ item, chosen, sought }: { item: Item; chosen: boolean; sought: string[] }) {
  const where = address(['job', item.job?.id ?? ''], { exhibit: String(item.exhibit) })
  return (
    <li data-at={chosen} class={item.withdrawn ? 'is-withdrawn' : undefined}>
      <a href={where}>
        <Thumb item={item} />
        <span class="found-job">
          <b>{item.job?.number}</b> {item.job?.vehicle}
        </span>
        <span class="found-line in-row">
          <Balloon number={item.exhibit} small />
          <span>
            <b>{item.title}</b>
            {item.text && <span class="found-text own-line">{item.text}</span>}
            {item.spoken?.text && <Hit note={item.spoken} sought={sought} />}
          </span>
        </span>
        <span class="found-when figure soft to-right">
          {day(item.claimed)} {shortClock(item.claimed)} <span class="found-who own-line">{item.author.name}</span>
        </span>
      </a>
    </li>
  )
}
