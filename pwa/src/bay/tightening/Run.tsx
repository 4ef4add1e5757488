import { useState } from 'preact/hooks'
import { JointDrawing } from '../../parts/joint/JointDrawing.tsx'
import { TakeBack } from '../../parts/controls/icons.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { RunDeviations } from './RunDeviations.tsx'
import { RunEnd } from './RunEnd.tsx'
import { RunFastener, RunUndo } from './RunFastener.tsx'
import { RunSheet } from './RunSheet.tsx'
import { RunSoFar } from './RunSoFar.tsx'
import { RunTarget } from './RunTarget.tsx'
import { RunTyped } from './RunTyped.tsx'
import { RunWith } from './RunWith.tsx'
import { SpokenActs } from '../speaking/SpokenFigure.tsx'
import { SpokenRun, SpokenRunMessage, type SpokenInRun, useSpokenRun } from './SpokenRun.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { ToolSheet } from './ToolSheet.tsx'
import { useAwake } from '../phone/awake.ts'
import { marksOf } from './runMarks.ts'
import { boltsWords, frontOf } from './runWords.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useType } from '../frame/useJob.ts'
import { type RunInHand, useRun } from './useRun.ts'
import { say } from '../frame/say.ts'
import type { Over } from './over.ts'

/** A half-typed value, of the fastener that was next when it was begun. */
const BLANK = { label: '', value: '', unit: '' }

/** A tightening sheet carried out on one joint: the next fastener lit, one touch each. */
export function Run({ job, id }: { job: Job; id: string }) {
  const type = useType(job)
  const hand = useRun(job, type, id)
  if (hand.run?.sheet.id) return <Running key={id} job={job} type={type} hand={hand} />
  return (
    <Screen title={say('run.title')} job={job} acts={<BackAct />}>
      {hand.runs && (
        <p>
          {hand.run
            ? say('run.sheet_not_here')
            : say('run.not_here')}
        </p>
      )}
    </Screen>
  )
}

/** What has to be done before a stage begins; "" once it began, or `ready` says that it was done. */
function waitsFor(stage: RunInHand['stage'], ready: string): string {
  if (!stage || stage.done.length > 0 || ready === `${stage.code} ${stage.restarted}`) return ''
  return stage.after
}

function Running({ job, type, hand }: { job: Job; type: EngineType | null; hand: RunInHand }) {
  const run = hand.run!
  const { state, sheet } = run
  const [over, setOver] = useState<Over>('')
  const [ready, setReady] = useState('')
  const typed = useDraft(`run/${run.id}`, BLANK)
  const dark = useAwake()
  const spoken = useSpokenRun(job, type, hand)
  const { stage, next } = hand
  const waits = next ? waitsFor(stage, ready) : ''
  const touch = (label: string) => {
    if (state.closed || stage?.done.some((row) => row.label === label)) setOver({ fastener: label })
    else void hand.record(label)
  }
  const type_ = (label: string) => typed.change({ label, value: '', unit: stage?.unit ?? '' })
  const place = state.stage === null ? say('run.all_stages') : say('run.stage_of', { number: state.stage + 1, count: state.stages.length })
  return (
    <Screen
      title={say('run.title_at', { joint: run.name, place })}
      quiet
      job={job}
      full
      acts={<Acts hand={hand} spoken={spoken} waits={Boolean(waits)} onReady={() => stage && setReady(`${stage.code} ${stage.restarted}`)} onOver={setOver} />}
    >
      <div class="run scrolls column">
        <button type="button" class="run-head on-line wrapped flat whole" onClick={() => setOver('sheet')}>
          <strong class="large one-line">{place}</strong>
          <span class="run-stage">{state.stage === null ? sheet.name : stage?.words}</span>
          <span class="small run-bolts soft">{boltsWords(sheet, run.bolts, hand.thread)}</span>
        </button>
        {stage?.proposed && next && <p class="warned small bold">{say('run.order_unconfirmed')}</p>}
        <RunWith hand={hand} onOver={setOver} />
        <JointDrawing
          fasteners={run.fasteners}
          title={say('run.title_at', { joint: run.name, place: stage?.words ?? '' })}
          marks={stage ? marksOf(state, stage) : {}}
          path={next ? stage?.done.map((row) => row.label) : []}
          front={frontOf(run.joint)}
          onChoose={touch}
        />
        {dark && <p class="warned small">{dark}</p>}
        <Open hand={hand} onOpen={() => setOver('deviations')} />
        <SpokenRunMessage spoken={spoken} />
        <StatusMessage words={hand.message.words} wrong={hand.message.wrong} />
        {!next && <RunEnd job={job} hand={hand} onDeviations={() => setOver('deviations')} />}
      </div>
      <SpokenRun hand={hand} spoken={spoken} />
      {next && stage && spoken.phase === 'still' && <RunTarget stage={stage} next={next} set={hand.set} waits={waits} onType={() => type_(next)} />}
      <SheetOver job={job} hand={hand} over={over} onType={type_} onClose={() => setOver('')} />
      {typed.value.label && stage && <RunTyped hand={hand} stage={stage} draft={typed} />}
    </Screen>
  )
}

interface SheetOverProps {
  job: Job
  hand: RunInHand
  over: Over
  onType: (label: string) => void
  onClose: () => void
}

/** The sheet that lies over the run, if one was opened. */
function SheetOver({ job, hand, over, onType, onClose }: SheetOverProps) {
  const { stage, last } = hand
  if (over === 'tool') return stage && <ToolSheet stage={stage} onClose={onClose} />
  if (over === 'deviations') return <RunDeviations job={job} hand={hand} onClose={onClose} />
  if (over === 'progress') return <RunSoFar run={hand.run!} onClose={onClose} />
  if (over === 'sheet') return <RunSheet job={job} hand={hand} onClose={onClose} />
  if (over === 'undo') return last && <RunUndo hand={hand} row={last} onClose={onClose} />
  if (over === '') return null
  return <RunFastener hand={hand} label={over.fastener} onType={() => onType(over.fastener)} onClose={onClose} />
}

/** What has to be answered, in one line over the target: never out of sight, never in the way. */
function Open({ hand, onOpen }: { hand: RunInHand; onOpen: () => void }) {
  const open = hand.state!.departures.filter(({ answered }) => !answered)
  if (open.length === 0) return null
  return (
    <button type="button" class="run-open flat own-line whole close-set" onClick={onOpen}>
      <strong class="own-line">{say('run.to_answer', { count: open.length })}</strong>
      <span class="small">{open.at(-1)!.words}</span>
    </button>
  )
}

interface ActsProps {
  hand: RunInHand
  spoken: SpokenInRun
  waits: boolean
  onReady: () => void
  onOver: (over: Over) => void
}

/** The button to speak by stays the last of the acts, whatever the others are. */
function Acts({ hand, spoken, waits, onReady, onOver }: ActsProps) {
  if (!hand.next) return <EndActs hand={hand} onOver={onOver} />
  return (
    <>
      {spoken.phase === 'proposed' ? (
        <SpokenActs spoken={spoken} ready={spoken.ready} busy={hand.busy} odd={spoken.warning !== ''} onRecord={() => void spoken.record()} />
      ) : (
        <NextActs hand={hand} next={hand.next} waits={waits} onReady={onReady} onOver={onOver} />
      )}
      <TalkAct spoken={spoken} off={waits} />
    </>
  )
}

function Undo({ hand, onOver }: Pick<ActsProps, 'hand' | 'onOver'>) {
  return <Act name={say('run.undo')} small sign={<TakeBack size={26} />} off={hand.busy || !hand.last || Boolean(hand.state!.closed)} onAct={() => onOver('undo')} />
}

function EndActs({ hand, onOver }: Pick<ActsProps, 'hand' | 'onOver'>) {
  return (
    <>
      <BackAct />
      <Undo hand={hand} onOver={onOver} />
    </>
  )
}

function NextActs({ hand, next, waits, onReady, onOver }: Omit<ActsProps, 'spoken'> & { next: string }) {
  return (
    <>
      <BackAct />
      <Undo hand={hand} onOver={onOver} />
      {waits ? (
        <Act name={say('run.ready')} main onAct={onReady} />
      ) : (
        <button type="button" class="act main-act run-done" aria-disabled={hand.busy} onClick={() => void hand.record(next)}>
          <strong class="headline">{say('common.done')}</strong> <span class="larger">{say('run.number', { number: next })}</span>
        </button>
      )}
    </>
  )
}
