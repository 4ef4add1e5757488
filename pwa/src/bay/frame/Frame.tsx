import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { signedIn, where } from '../../capture/index.ts'
import { type Cell, TitleBlock } from '../../parts/controls/TitleBlock.tsx'
import { Back } from '../../parts/controls/icons.tsx'
import { type Job, engineTypes, health, phone, waiting } from '../../store/index.ts'
import { useServer } from './ask.ts'
import { fullName } from './places.ts'
import { open } from './route.ts'
import { capital, clockTime } from './words.ts'

/** Always in sight: which job, engine, place and stage, who, how much waits here and when the server was last reached. */
function useTitle(job: Job | null): Cell[][] {
  const { status } = useServer()
  const { words, why, reached, alarm } = status.value
  const w = waiting.value
  const held = w.records + w.pictures + w.sounds
  const here: Cell = {
    label: 'on this phone',
    value: (
      <>
        <span aria-hidden="true">
          {held} <span class="thin">· {reached ? clockTime(reached) : 'not yet'}</span>
        </span>
        <span class="unseen">{words}</span>
      </>
    ),
    share: 'fit',
    onOpen: () => open('phone'),
    alert: Boolean(alarm) || w.attention > 0 || health.value.state === 'blocked',
  }
  const by: Cell = { label: 'by', value: signedIn.value?.name ?? 'nobody', share: 'fit', onOpen: () => open('who') }
  if (!job) {
    const shop: Cell = { label: 'workshop', value: phone.value?.workshop.name ?? 'not joined yet', share: 1 }
    return [[by, shop, { ...here, alert: here.alert || (Boolean(why) && held > 0) }]]
  }
  const type = engineTypes.value.get(job.engine_type)
  const place = where.value?.job === job.id ? fullName(job, where.value.place, where.value.point) : 'the job itself'
  const engine = (
    <>
      {type?.name ?? 'type not known here'} <span class="thin figure">{job.engine_number}</span>
    </>
  )
  return [
    [
      { label: 'job', value: job.number, share: 'fit', onOpen: () => open('jobs') },
      { label: 'engine', value: engine, share: 1, onOpen: () => open('facts', job.id) },
      { label: 'stage', value: job.stage ?? 'not begun', share: 'fit', onOpen: () => open('stage', job.id) },
    ],
    [by, { label: 'place', value: place, share: 1, onOpen: () => open('places', job.id) }, here],
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
    document.title = `${capital(title)}${job ? `, job ${job.number}` : ''} · witnessmark`
    head.current?.focus({ preventScroll: true })
  }, [title, job?.id])
  return (
    <div class="screen">
      <TitleBlock rows={useTitle(job)} />
      <main class={full ? 'middle is-full' : 'middle'}>
        <h1 class={quiet ? 'unseen' : 'screen-title'} tabIndex={-1} ref={head}>
          {title}
        </h1>
        {children}
      </main>
      {under}
      {acts && <nav class="acts" aria-label="Acts">{acts}</nav>}
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
export function BackAct({ onAct = () => history.back(), name = 'Back' }: { onAct?: () => void; name?: string }) {
  return <Act name={name} small sign={<Back size={26} />} onAct={onAct} />
}

/** What was just kept, or why it was not: said aloud too. */
export function Told({ words, wrong }: { words: string; wrong?: boolean }) {
  return (
    <p class={`told${wrong ? ' is-wrong' : ''}${words ? '' : ' is-empty'}`} role="status">
      {words}
    </p>
  )
}
