import { useState } from 'preact/hooks'
import { reachStage, tick } from '../../capture/index.ts'
import { Tick as TickSign } from '../../parts/controls/icons.tsx'
import { type Job, type Tick, checklist, people } from '../../store/index.ts'
import { ALWAYS, STAGES, stageWords } from '../../trade/engine/stages.ts'
import { BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { say } from '../frame/say.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useStored } from '../frame/useStored.ts'
import { capital, clockTime } from '../frame/words.ts'
import './stage.css'

type StageOf = (typeof STAGES)[number]
type Attempt = (act: () => Promise<unknown>, words: string) => Promise<unknown>

/** How far the job is, what is to be recorded before the next step, and what can hurt. */
export function Stage({ job }: { job: Job }) {
  const ticks = useStored<Tick[]>([], () => checklist(job.id), [job.id])
  const { message, attempt, busy } = useSaving()
  const stage = STAGES.find((s) => s.code === job.stage)
  return (
    <Screen title={say('stage.title')} job={job} acts={<BackAct />}>
      <StatusMessage words={message.words} wrong={message.wrong} />
      {stage ? <Checklist job={job} stage={stage} ticks={ticks} busy={busy} attempt={attempt} /> : <p>{say('stage.none')}</p>}
      <Stages job={job} stage={stage} ticks={ticks} busy={busy} attempt={attempt} />
    </Screen>
  )
}

interface StageProps<S> {
  job: Job
  stage: S
  ticks: Tick[]
  busy: boolean
  attempt: Attempt
}

const tickOf = (ticks: Tick[], stage: string, item: string) => ticks.find((t) => t.stage === stage && t.item === item)

function Checklist({ job, stage, ticks, busy, attempt }: StageProps<StageOf>) {
  return (
    <section class="stage-now">
      <h2>{capital(stage.words)}</h2>
      <p class="soft">{stage.purpose}</p>
      <ul class="checklist line-over above-4">
        {stage.checklist.map((item) => (
          <Item key={item.item} job={job} stage={stage.code} item={item} tick={tickOf(ticks, stage.code, item.item)} busy={busy} attempt={attempt} />
        ))}
      </ul>
      {stage.cautions.length > 0 && (
        <div class="cautions washed">
          <h3>{say('common.cautions')}</h3>
          {stage.cautions.map((c) => (
            <p class="small above-2" key={c}>{c}</p>
          ))}
          <p class="small above-2">{ALWAYS}</p>
        </div>
      )}
    </section>
  )
}

/** All stages in their order; going to another one is recorded at the second touch. */
function Stages({ job, stage, ticks, busy, attempt }: StageProps<StageOf | undefined>) {
  const [moving, setMoving] = useState<string | null>(null)
  const open = stage?.checklist.filter(({ item }) => !tickOf(ticks, stage.code, item)?.ticked) ?? []
  const go = async (code: string) => {
    setMoving(null)
    await attempt(() => reachStage(job.id, code), say('stage.saved', { stage: stageWords(code) }))
  }
  return (
    <section>
      <h2>{say('stage.all')}</h2>
      <ol class="stages above-4">
        {STAGES.map((s, i) => (
          <li key={s.code} class={`hair-under${s.code === job.stage ? ' is-now' : ''}`}>
            <button type="button" aria-current={s.code === job.stage ? 'step' : undefined} disabled={busy} onClick={() => setMoving(s.code)}>
              <span class="figure">{i + 1}</span> {capital(s.words)}
              {s.code === job.stage && <span class="small"> {say('stage.now')}</span>}
            </button>
            {moving === s.code && s.code !== job.stage && (
              <div class="stage-ask">
                <p>
                  {open.length > 0 && stage
                    ? say('stage.not_ticked', { open: open.length, all: stage.checklist.length, stage: stage.words })
                    : say('stage.goes_to', { stage: s.words })}
                </p>
                <button type="button" class="main-act whole above-4" onClick={() => void go(s.code)}>
                  {say('stage.reach', { stage: s.words })}
                </button>
              </div>
            )}
          </li>
        ))}
      </ol>
    </section>
  )
}

function Item(props: { job: Job; stage: string; item: { item: string; words: string }; tick: Tick | undefined; busy: boolean; attempt: Attempt }) {
  const { job, stage, item, tick: last, busy, attempt } = props
  const done = last?.ticked ?? false
  const by = people.value.find((p) => p.id === last?.by)?.name
  return (
    <li>
      <button
        type="button"
        class="flat whole"
        role="checkbox"
        aria-checked={done}
        disabled={busy}
        onClick={() => void attempt(() => tick(job.id, { stage, item: item.item, ticked: !done, note: '' }), done ? say('stage.unticked') : say('common.saved'))}
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
