import { useState } from 'preact/hooks'
import { Add } from '../desk/Add.tsx'
import { DropHere } from '../desk/DropHere.tsx'
import { FaultNotice } from '../../frame/notices.tsx'
import { useKeys } from '../../frame/keys.ts'
import type { Item } from '../../frame/shapes.ts'
import { Amend } from './Amend.tsx'
import { Exhibit } from './Exhibit.tsx'
import { mayBeCorrected, mayBeWithdrawn } from '../../../trade/record/fields.ts'
import { takeAllOff } from './filters.ts'
import { picture } from '../../frame/picture.ts'
import { Places } from './Places.tsx'
import { choose, chosen, job, jobTrouble, jump, step } from './state.ts'
import { FilterFields, Tags } from './Tags.tsx'
import { Timeline } from './Timeline.tsx'
import { Viewer } from './Viewer.tsx'
import { say } from '../../frame/say.ts'
import './record.css'

type Over = '' | 'viewer' | 'add' | 'correct' | 'withdraw'

/** The record of a job: engine, timeline and record in hand side by side; on a narrow screen one of them at a time. */
export function Record() {
  const [over, setOver] = useState<Over>('')
  const [front, setFront] = useState<'record' | 'exhibit' | 'places'>('record')
  const [files, setFiles] = useState<File[]>([])
  const item = chosen.value
  const enlarge = () => item && picture(item) && setOver('viewer')
  const offered = { correct: mayBeCorrected, withdraw: mayBeWithdrawn }
  const amend = (how: 'correct' | 'withdraw') => item && offered[how](item.kind) && setOver(how)
  const open = (next: Item) => {
    choose(next)
    setFront('exhibit')
  }
  const add = (dropped: File[] = []) => {
    setFiles(dropped)
    setOver('add')
  }
  useKeys({
    ...STEPS,
    Enter: enlarge,
    a: () => add(),
    c: () => amend('correct'),
    x: takeAllOff,
    ' ': () => document.querySelector<HTMLElement>('.exhibit-sound .spoken-play button')?.click(),
    Escape: () => setFront('record'),
  })
  if (jobTrouble.value) return <FaultNotice>{jobTrouble.value.message}</FaultNotice>
  if (!job.value) return <p class="opening">{say('record.opening')}</p>
  return (
    <DropHere take={add}>
      <div class="record" data-front={front}>
        <h1 class="unseen">{say('record.title', { number: job.value.number, vehicle: job.value.vehicle })}</h1>
        <section class="pane pane-places" aria-label={say('record.engine_drawing')}>
          <Places done={() => setFront('record')} />
        </section>
        <section class="pane pane-record" aria-label={say('record.record')}>
          <RecordTools toPlaces={() => setFront('places')} add={() => add()} />
          <Timeline open={open} />
        </section>
        <div class="pane pane-exhibit">
          <Exhibit enlarge={enlarge} answer={amend} back={() => setFront('record')} />
        </div>
      </div>
      {over === 'viewer' && <Viewer close={() => setOver('')} />}
      {over === 'add' && <Add files={files} close={() => setOver('')} />}
      {(over === 'correct' || over === 'withdraw') && item && (
        <Amend item={item} how={over} close={() => setOver('')} />
      )}
    </DropHere>
  )
}

/** Keys that go from record to record. */
const STEPS = {
  ArrowDown: () => void step(1),
  ArrowUp: () => void step(-1),
  j: () => void step(1),
  k: () => void step(-1),
  ArrowRight: () => void step(1),
  ArrowLeft: () => void step(-1),
  Home: () => void jump('first'),
  End: () => void jump('last'),
}

/** Above the timeline: the filters in force, the way to the engine drawing, to more filters and to a new record. */
function RecordTools({ toPlaces, add }: { toPlaces: () => void; add: () => void }) {
  const [filtering, setFiltering] = useState(false)
  return (
    <div class="record-tools wrapped hair-under">
      <Tags />
      <button type="button" class="to-places" onClick={toPlaces}>
        {say('record.engine')}
      </button>
      <button type="button" aria-expanded={filtering} onClick={() => setFiltering(!filtering)}>
        {filtering ? say('record.filter_done') : say('record.filter')}
      </button>
      <button type="button" class="to-add" onClick={add} aria-keyshortcuts="a">
        {say('record.add')}
      </button>
      {filtering && <FilterFields />}
    </div>
  )
}
