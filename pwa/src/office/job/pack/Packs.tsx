import { useEffect, useState } from 'preact/hooks'
import { get, post, ApiError } from '../../frame/api.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import type { Pack } from '../../frame/shapes.ts'
import { job, jobTrouble } from '../record/state.ts'
import { Issued } from './Issued.tsx'
import './packs.css'

const LOOK_EVERY_MS = 700

const SORTS = [
  { code: 'sealed', name: say('pack.sealed'), holds: say('pack.sealed_holds'), note: say('pack.sealed_note') },
  { code: 'customer', name: say('pack.customer'), holds: say('pack.customer_holds'), note: say('pack.customer_note') },
] as const

/** Makes packs of the record: which sort, progress, and those issued before. */
export function Packs({ job: id }: { job: string }) {
  const { packs, fault, setFault, look } = usePacks(id)
  const [sort, setSort] = useState<Pack['sort']>('sealed')
  const [sending, setSending] = useState(false)
  const make = async (event: Event) => {
    event.preventDefault()
    setSending(true)
    setFault('')
    try {
      await post(`/api/jobs/${id}/packs`, { sort })
      await look()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    } finally {
      setSending(false)
    }
  }
  if (jobTrouble.value) return <FaultNotice>{jobTrouble.value.message}</FaultNotice>
  const missing = job.value?.missing_media ?? 0
  return (
    <section class="page pack-page" aria-labelledby="pack-title">
      <header class="page-head along wrapped">
        <h1 id="pack-title">{job.value ? say('pack.title_of_job', { number: job.value.number }) : say('pack.title')}</h1>
        <p class="soft">{say('pack.about')}</p>
      </header>
      <form noValidate onSubmit={make}>
        <Sorts sort={sort} choose={setSort} />
        <Proves />
        {missing > 0 && <p class="caution pack-missing bold">{say('pack.files_missing', { count: missing })}</p>}
        <FaultNotice>{fault}</FaultNotice>
        {isManager.value ? (
          <div class="acts">
            <button class="main-act" disabled={sending || !job.value}>
              {say('pack.make')}
            </button>
            <span class="soft">{say('pack.may_leave')}</span>
          </div>
        ) : (
          <p class="soft">{say('pack.manager_only')}</p>
        )}
      </form>
      <Issued packs={packs} />
    </section>
  )
}

/** The packs of a job, looked at again and again while one of them is being made. */
function usePacks(id: string) {
  const [packs, setPacks] = useState<Pack[] | null>(null)
  const [fault, setFault] = useState('')
  const look = async () => {
    try {
      setPacks((await get<{ packs: Pack[] }>(`/api/jobs/${id}/packs`)).packs)
    } catch (reason) {
      if (reason instanceof ApiError) setFault(reason.message)
    }
  }
  useEffect(() => void look(), [id])
  const working = packs?.some((pack) => pack.state === 'waiting' || pack.state === 'working') ?? false
  useEffect(() => {
    if (!working) return
    const timer = setInterval(() => void look(), LOOK_EVERY_MS)
    return () => clearInterval(timer)
  }, [working, id])
  return { packs, fault, setFault, look }
}

function Sorts({ sort: chosen, choose }: { sort: Pack['sort']; choose: (sort: Pack['sort']) => void }) {
  return (
    <fieldset class="pack-sorts kinds framed">
      <legend class="unseen">{say('pack.which')}</legend>
      {SORTS.map(({ code, name, holds, note }) => (
        <label key={code} class={`in-grid${chosen === code ? ' is-chosen' : ''}`}>
          <input
            type="radio"
            name="sort"
            value={code}
            aria-labelledby={`sort-${code}`}
            aria-describedby={`holds-${code} hides-${code}`}
            checked={chosen === code}
            onChange={() => choose(code)}
          />
          <span class="pack-sort-name bold large" id={`sort-${code}`}>
            {name}
          </span>
          <span id={`holds-${code}`}>{holds}</span>
          <span class="soft" id={`hides-${code}`}>
            {note}
          </span>
        </label>
      ))}
    </fieldset>
  )
}

/** What a pack proves and what it does not. */
function Proves() {
  return (
    <div class="pack-proves halves">
      <div>
        <h2 class="body-size">{say('pack.proves_title')}</h2>
        <p>{say('pack.proves')}</p>
      </div>
      <div>
        <h2 class="body-size">{say('pack.proves_not_title')}</h2>
        <p>{say('pack.proves_not')}</p>
      </div>
    </div>
  )
}
