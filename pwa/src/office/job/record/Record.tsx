import { useState } from 'preact/hooks'
import { Add } from '../desk/Add.tsx'
import { DropHere } from '../desk/DropHere.tsx'
import { Fault } from '../../frame/Say.tsx'
import { useKeys } from '../../frame/keys.ts'
import type { Item } from '../../frame/shapes.ts'
import { Amend } from './Amend.tsx'
import { Exhibit } from './Exhibit.tsx'
import { mayBeAnswered } from './fields.ts'
import { takeAllOff } from './filters.ts'
import { picture } from '../../frame/picture.ts'
import { Places } from './Places.tsx'
import { choose, chosen, job, jobTrouble, jump, step } from './state.ts'
import { Narrow, Tags } from './Tags.tsx'
import { Timeline } from './Timeline.tsx'
import { Viewer } from './Viewer.tsx'

type Over = '' | 'viewer' | 'add' | 'correct' | 'withdraw'

/** The record of a job: engine, timeline, exhibit, side by side; on a narrow sheet one of them at a time. */
export function Record() {
  const [over, setOver] = useState<Over>('')
  const [front, setFront] = useState<'record' | 'exhibit' | 'places'>('record')
  const [files, setFiles] = useState<File[]>([])
  const [narrowing, setNarrowing] = useState(false)
  const item = chosen.value
  const enlarge = () => item && picture(item) && setOver('viewer')
  const answer = (how: 'correct' | 'withdraw') => item && mayBeAnswered(item) && setOver(how)
  const open = (next: Item) => {
    choose(next)
    setFront('exhibit')
  }
  const add = (dropped: File[] = []) => {
    setFiles(dropped)
    setOver('add')
  }
  useKeys({
    ArrowDown: () => void step(1),
    ArrowUp: () => void step(-1),
    j: () => void step(1),
    k: () => void step(-1),
    ArrowRight: () => void step(1),
    ArrowLeft: () => void step(-1),
    Home: () => void jump('first'),
    End: () => void jump('last'),
    Enter: enlarge,
    a: () => add(),
    c: () => answer('correct'),
    x: takeAllOff,
    ' ': () => document.querySelector<HTMLElement>('.exhibit-sound .spoken-play button')?.click(),
    Escape: () => setFront('record'),
  })
  if (jobTrouble.value) return <Fault>{jobTrouble.value.message}</Fault>
  if (!job.value) return <p class="opening">Opening the job.</p>
  return (
    <DropHere take={add}>
      <div class="record" data-front={front}>
        <h1 class="unseen">
          Record of job {job.value.number}, {job.value.vehicle}
        </h1>
        <section class="pane pane-places" aria-label="Engine drawing">
          <Places done={() => setFront('record')} />
        </section>
        <section class="pane pane-record" aria-label="Record">
          <div class="record-tools">
            <Tags />
            <button type="button" class="to-places" onClick={() => setFront('places')}>
              Engine
            </button>
            <button type="button" aria-expanded={narrowing} onClick={() => setNarrowing(!narrowing)}>
              {narrowing ? 'Done' : 'Narrow'}
            </button>
            <button type="button" class="to-add" onClick={() => add()} aria-keyshortcuts="a">
              Add
            </button>
            {narrowing && <Narrow />}
          </div>
          <Timeline open={open} />
        </section>
        <div class="pane pane-exhibit">
          <Exhibit enlarge={enlarge} answer={answer} back={() => setFront('record')} />
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
