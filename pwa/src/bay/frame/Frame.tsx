import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { signedIn, where } from '../../capture/index.ts'
import { type Cell, TitleBlock } from '../../parts/controls/TitleBlock.tsx'
import { Back } from '../../parts/controls/icons.tsx'
import { type Job, engineTypes, health, phone, waiting } from '../../store/index.ts'
import { stageWords } from '../../trade/engine/stages.ts'
import { useServer } from './server.ts'
import { fullName } from './places.ts'
import { open } from './route.ts'
import { capital, clockTime } from './words.ts'
import { say } from './say.ts'

function useWaitingCell(): { cell: Cell; stuck: boolean } {
  const { status } = useServer()
  const { words, why, reached, alarm } = status.value
  const w = waiting.value
  const held = w.records + w.pictures + w.sounds
  const cell: Cell = {
    label: say('title.on_this_phone'),
    value: (
      <>
        <span aria-hidden="true">
          {held} <span class="thin">· {reached ? clockTime(reached) : say('title.never_reached')}</span>
        </span>
        <span class="unseen">{words}</span>
      </>
    ),
    share: 'fit',
    onOpen: () => open('phone'),
    alert: Boolean(alarm) || w.attention > 0 || health.value.state === 'blocked',
  }
  return { cell, stuck: Boolean(why) && held > 0 }
}

/** Always in sight: which job, engine, place and stage, who, how much waits here and when the server was last reached. */
function useTitle(job: Job | null): Cell[][] {
  const { cell: here, stuck } = useWaitingCell()
  const by: Cell = { label: say('title.by'), value: signedIn.value?.name ?? say('title.nobody'), share: 'fit', onOpen: () => open('who') }
  if (!job) {
    const shop: Cell = { label: say('common.workshop'), value: phone.value?.workshop.name ?? say('title.not_joined'), share: 1 }
    return [[by, shop, { ...here, alert: here.alert || stuck }]]
  }
  const type = engineTypes.value.get(job.engine_type)
  const place = where.value?.job === job.id ? fullName(job, where.value.place, where.value.point) : say('place.whole_job')
  const engine = (
    <>
      {type?.name ?? say('title.type_unknown')} <span class="thin figure">{job.engine_number}</span>
    </>
  )
  return [
    [
      { label: say('title.job'), value: job.number, share: 'fit', onOpen: () => open('jobs') },
      { label: say('common.engine'), value: engine, share: 1, onOpen: () => open('facts', job.id) },
      { label: say('title.stage'), value: job.stage ? stageWords(job.stage) : say('common.not_begun'), share: 'fit', onOpen: () => open('stage', job.id) },
    ],
    [by, { label: say('common.place'), value: place, share: 1, onOpen: () => open('places', job.id) }, here],
  ]
}

export interface ScreenProps {
  /** What this screen is, as its heading; read out when the screen opens. */
  title: string
  /** The heading is for the ear alone where the drawing says enough. */
  quiet?: boolean
  job?: Job | null
  children: ComponentChildren
  /** The acts along the lower edge, under the thumb. */
  acts?: ComponentChildren
  /** Stands on the acts, below what slides. */
  under?: ComponentChildren
  /** Fills the whole middle, without a margin. */
  full?: boolean
}

/** One screen: title block above, one thing in the middle, the acts under the thumb. */
export function Screen({ title, quiet, job = null, children, acts, under, full }: ScreenProps) {
  const head = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    document.title = job ? say('frame.window_of_job', { title: capital(title), number: job.number }) : say('frame.window', { title: capital(title) })
    head.current?.focus({ preventScroll: true })
  }, [title, job?.id])
  return (
    <div class="screen column">
      <TitleBlock rows={useTitle(job)} />
      <main class={full ? 'middle is-full' : 'middle'}>
        <h1 class={quiet ? 'unseen' : 'screen-title'} tabIndex={-1} ref={head}>
          {title}
        </h1>
        {children}
      </main>
      {under}
      {acts && <nav class="acts thick-over" aria-label={say('frame.acts')}>{acts}</nav>}
    </div>
  )
}

export function Act(props: {
  name: string
  sign?: ComponentChildren
  main?: boolean
  small?: boolean
  off?: boolean
  onAct: () => void
}) {
  return (
    <button type="button" class={`act${props.main ? ' main-act' : ''}${props.small ? ' is-small' : ''}`} disabled={props.off} onClick={props.onAct}>
      {props.sign}
      <span>{props.name}</span>
    </button>
  )
}

/** The way back, always in the same corner of the acts. */
export function BackAct({ onAct = () => history.back(), name = say('common.back') }: { onAct?: () => void; name?: string }) {
  return <Act name={name} small sign={<Back size={26} />} onAct={onAct} />
}

/** What was just saved, or why it was not: read out by a screen reader too. */
export function StatusMessage({ words, wrong }: { words: string; wrong?: boolean }) {
  return (
    <p class={`bold told${wrong ? ' is-wrong' : ''}${words ? '' : ' is-empty'}`} role="status">
      {words}
    </p>
  )
}
