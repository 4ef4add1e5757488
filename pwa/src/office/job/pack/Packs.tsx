import { useEffect, useState } from 'preact/hooks'
import { get, post, ApiError } from '../../frame/api.ts'
import { Fault } from '../../frame/Say.tsx'
import { job, jobTrouble } from '../record/state.ts'
import { isManager } from '../../frame/session.ts'
import type { Pack } from '../../frame/shapes.ts'
import { bytes, count, dayAndClock, figure, print } from '../../frame/words.ts'

const LOOK_EVERY_MS = 700

const SORTS = [
  {
    code: 'sealed',
    name: 'Sealed',
    holds:
      'The originals untouched, byte for byte, with every record, receipt and signed head, and the program that checks them.',
    hides:
      'It shows everything a picture file carries, where it was taken included. Give it to an assessor, an insurer or a court.',
  },
  {
    code: 'customer',
    name: 'For the customer',
    holds:
      'Copies of the pictures with place, camera notes and hidden extras taken out and no dot changed, each tied to its original.',
    hides:
      'The originals stay here; whoever wants to check them asks for the sealed sort. Give it to the owner of the engine.',
  },
] as const

/** Cuts a pack from the record: which sort, how far it is, and those made before. */
export function Packs({ job: id }: { job: string }) {
  const [packs, setPacks] = useState<Pack[] | null>(null)
  const [sort, setSort] = useState<Pack['sort']>('sealed')
  const [fault, setFault] = useState('')
  const [asking, setAsking] = useState(false)
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

  const cut = async (event: Event) => {
    event.preventDefault()
    setAsking(true)
    setFault('')
    try {
      await post(`/api/jobs/${id}/packs`, { sort })
      await look()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    } finally {
      setAsking(false)
    }
  }
  if (jobTrouble.value) return <Fault>{jobTrouble.value.message}</Fault>
  const missing = job.value?.missing_media ?? 0
  return (
    <section class="page pack-page" aria-labelledby="pack-title">
      <header class="page-head">
        <h1 id="pack-title">Pack{job.value && `, job ${job.value.number}`}</h1>
        <p class="soft">
          One file with the whole record, that anyone can check without this workshop and without this program.
        </p>
      </header>
      <form noValidate onSubmit={cut}>
        <fieldset class="pack-sorts">
          <legend class="unseen">Which sort of pack</legend>
          {SORTS.map((one) => (
            <label key={one.code} class={sort === one.code ? 'is-chosen' : ''}>
              <input
                type="radio"
                name="sort"
                value={one.code}
                aria-labelledby={`sort-${one.code}`}
                aria-describedby={`holds-${one.code} hides-${one.code}`}
                checked={sort === one.code}
                onChange={() => setSort(one.code)}
              />
              <span class="pack-sort-name" id={`sort-${one.code}`}>
                {one.name}
              </span>
              <span id={`holds-${one.code}`}>{one.holds}</span>
              <span class="soft" id={`hides-${one.code}`}>
                {one.hides}
              </span>
            </label>
          ))}
        </fieldset>
        <div class="pack-proves">
          <div>
            <h2>What either proves</h2>
            <p>
              That no record or picture in it was altered, taken out of the middle or put in since the server signed for
              it, and in which order all arrived.
            </p>
          </div>
          <div>
            <h2>What neither proves</h2>
            <p>
              That what was photographed is what it is said to be, that a phone's clock was right, or that everything
              was recorded. It says what was seen and measured and is no certificate of fitness.
            </p>
          </div>
        </div>
        {missing > 0 && (
          <p class="caution pack-missing">
            {count(missing, 'file')} of this job {missing === 1 ? 'has' : 'have'} not arrived from the phones. A pack
            cut now says so and leaves
            {missing === 1 ? ' it' : ' them'} out.
          </p>
        )}
        <Fault>{fault}</Fault>
        {isManager.value ? (
          <div class="acts">
            <button class="main-act" disabled={asking || !job.value}>
              Cut the pack
            </button>
            <span class="soft">You may leave this sheet meanwhile; the work goes on.</span>
          </div>
        ) : (
          <p class="soft">A manager cuts the packs.</p>
        )}
      </form>
      <Issued packs={packs} />
    </section>
  )
}

function Issued({ packs }: { packs: Pack[] | null }) {
  if (!packs) return null
  return (
    <section class="issued" aria-labelledby="issued-title">
      <h2 id="issued-title">Packs of this job</h2>
      {packs.length === 0 && <p class="empty">None has been cut yet.</p>}
      <ol>
        {packs.map((pack) => (
          <Line key={pack.id} pack={pack} />
        ))}
      </ol>
    </section>
  )
}

function Line({ pack }: { pack: Pack }) {
  const name = pack.sort === 'sealed' ? 'Sealed' : 'For the customer'
  return (
    <li class={`pack-line pack-${pack.state}`}>
      <p class="pack-line-name">
        <b>{name}</b>
        <span class="soft"> {dayAndClock(pack.created)}</span>
      </p>
      {(pack.state === 'waiting' || pack.state === 'working') && <Progress pack={pack} />}
      {pack.state === 'failed' && <p class="field-wrong">{pack.words}</p>}
      {pack.state === 'ready' && (
        <>
          <p class="pack-line-words">
            <span class="figure">{pack.name}</span>{' '}
            {pack.size !== null && <span class="figure">{bytes(pack.size)}</span>}
            {pack.sha256 && <span class="figure soft"> print {print(pack.sha256)}</span>}
          </p>
          <a class="act" href={`/api/packs/${pack.id}/file`} download={pack.name} aria-label={`Download ${pack.name}`}>
            Download
          </a>
        </>
      )}
    </li>
  )
}

function Progress({ pack }: { pack: Pack }) {
  return (
    <div class="pack-progress">
      <progress max={Math.max(1, pack.total)} value={pack.done} aria-label="Cutting the pack" />
      <p role="status">
        {pack.words || (pack.state === 'waiting' ? 'Waiting its turn' : 'Working')}
        {pack.total > 0 && (
          <span class="figure">
            {' '}
            · {figure(pack.done)} of {figure(pack.total)}
          </span>
        )}
      </p>
    </div>
  )
}
