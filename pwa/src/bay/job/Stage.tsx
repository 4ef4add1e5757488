import { useState } from 'preact/hooks'
import { reachStage, tick } from '../../capture/index.ts'
import { Tick as TickSign } from '../../parts/controls/icons.tsx'
import { type Job, type Tick, checklist, people } from '../../store/index.ts'
import { ALWAYS, STAGES, stageWords } from '../../trade/engine/stages.ts'
import { BackAct, Screen, Told } from '../frame/Frame.tsx'
import { useAsked } from '../frame/useAsked.ts'
import { useSaving } from '../frame/useSaving.ts'
import { capital, clockTime } from '../frame/words.ts'

/** How far the job is, what is to be recorded before the next step, and what can hurt. */
export function Stage({ job }: { job: Job }) {
  const ticks = useAsked<Tick[]>([], () => checklist(job.id), [job.id])
  const { told, keep, busy } = useSaving()
  const [moving, setMoving] = useState<string | null>(null)
  const stage = STAGES.find((s) => s.code === job.stage)
  const open = stage?.checklist.filter(({ item }) => !ticks.some((t) => t.stage === stage.code && t.item === item && t.ticked)) ?? []
  const go = async (code: string) => {
    setMoving(null)
    await keep(() => reachStage(job.id, code), `Saved: ${stageWords(code)} reached.`)
  }
  return (
    <Screen title="Stage and checklist" job={job} acts={<BackAct />}>
      <Told words={told.words} wrong={told.wrong} />
      {stage ? (
        <section class="stage-now">
          <h2>{capital(stage.words)}</h2>
          <p class="soft">{stage.purpose}</p>
          <ul class="checklist">
            {stage.checklist.map((item) => (
              <Item key={item.item} job={job} stage={stage.code} item={item} tick={ticks.find((t) => t.stage === stage.code && t.item === item.item)} busy={busy} keep={keep} />
            ))}
          </ul>
          {stage.cautions.length > 0 && (
            <div class="cautions">
              <h3>Mind</h3>
              {stage.cautions.map((c) => (
                <p key={c}>{c}</p>
              ))}
              <p>{ALWAYS}</p>
            </div>
          )}
        </section>
      ) : (
        <p>No stage has been reached yet. Touch the one the job stands at.</p>
      )}
      <section>
        <h2>Stages of the job</h2>
        <ol class="stages">
          {STAGES.map((s, i) => (
            <li key={s.code} class={s.code === job.stage ? 'is-now' : ''}>
              <button type="button" aria-current={s.code === job.stage ? 'step' : undefined} disabled={busy} onClick={() => setMoving(s.code)}>
                <span class="figure">{i + 1}</span> {capital(s.words)}
                {s.code === job.stage && <span class="small"> now</span>}
              </button>
              {moving === s.code && s.code !== job.stage && (
                <div class="stage-ask">
                  <p>
                    {open.length > 0 && stage
                      ? `${open.length} of ${stage.checklist.length} are not ticked in ${stage.words}. Going on is allowed, and the record shows it.`
                      : `The job goes to ${s.words}.`}
                  </p>
                  <button type="button" class="main-act" onClick={() => void go(s.code)}>
                    Record: {s.words} reached
                  </button>
                </div>
              )}
            </li>
          ))}
        </ol>
      </section>
    </Screen>
  )
}

function Item(props: {
  job: Job
  stage: string
  item: { item: string; words: string }
  tick: Tick | undefined
  busy: boolean
  keep: (act: () => Promise<unknown>, words: string) => Promise<unknown>
}) {
  const { job, stage, item, tick: last, busy, keep } = props
  const done = last?.ticked ?? false
  const by = people.value.find((p) => p.id === last?.by)?.name
  return (
    <li>
      <button
        type="button"
        role="checkbox"
        aria-checked={done}
        disabled={busy}
        onClick={() => void keep(() => tick(job.id, { stage, item: item.item, ticked: !done, note: '' }), done ? 'Saved: taken back.' : 'Saved.')}
      >
        <span class="box" aria-hidden="true">
          {done && <TickSign size={22} />}
        </span>
        <span>
          {item.words}
          {done && (
            <span class="small soft">
              {' '}
              {by}, {clockTime(last!.claimed)}
            </span>
          )}
        </span>
      </button>
    </li>
  )
}
