import { useState } from 'preact/hooks'
import { closeRun, witnessRun } from '../../capture/index.ts'
import type { Job } from '../../store/index.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { say } from '../frame/say.ts'
import { useSaving } from '../frame/useSaving.ts'
import { clockTime } from '../frame/words.ts'
import { nameOf } from './runWords.ts'
import { Second } from '../people/Second.tsx'
import { type RunInHand, whereIn } from './useRun.ts'

interface RunEndProps {
  job: Job
  hand: RunInHand
  onDeviations: () => void
}

/** After the last fastener: what is missing before the run may be closed, a second person's witness, the closing. */
export function RunEnd(props: RunEndProps) {
  return props.hand.state!.closed ? <Closed {...props} /> : <Closing {...props} />
}

const openIn = (hand: RunInHand) => hand.state!.departures.filter(({ answered }) => !answered)

function Closed({ hand, onDeviations }: RunEndProps) {
  const state = hand.state!
  const { by, at } = state.closed!
  const open = openIn(hand)
  return (
    <div class="run-end stack thick-over">
      <p>
        {say('run_end.closed_by', { name: nameOf(by), time: clockTime(at) })} {state.witnessed && say('run_end.witnessed_by', { name: nameOf(state.witnessed.by), time: clockTime(state.witnessed.at) })}
      </p>
      {state.missing.map((words) => (
        <p key={words} class="small">
          {words}
        </p>
      ))}
      {open.length > 0 && (
        <button type="button" class="wide" onClick={onDeviations}>
          {say('run_end.answer', { count: open.length })}
        </button>
      )}
    </div>
  )
}

function Closing({ job, hand, onDeviations }: RunEndProps) {
  const { message, busy, attempt } = useSaving()
  const [witness, setWitness] = useState(false)
  const run = hand.run!
  const state = hand.state!
  const open = openIn(hand)
  const rest = state.missing.filter((missing) => !open.some(({ words }) => missing.startsWith(words)))
  const close = () => attempt(() => closeRun(whereIn(job, run), run.id, ''), say('run_end.closed'))
  return (
    <div class="run-end stack thick-over">
      <p>
        <strong>{state.complete ? say('run_end.complete') : say('run_end.nothing_more')}</strong>{' '}
        {state.may_close ? say('run_end.nothing_missing') : say('run_end.before_closing')}
      </p>
      {rest.length > 0 && (
        <ul class="settle">
          {rest.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      <StatusMessage words={message.words} wrong={message.wrong} />
      <div class="stack">
        {open.length > 0 && (
          <button type="button" class="wide main-act" onClick={onDeviations}>
            {say('run_end.answer', { count: open.length })}
          </button>
        )}
        {state.witnessed ? (
          <p class="small">{say('run_end.witnessed_by', { name: nameOf(state.witnessed.by), time: clockTime(state.witnessed.at) })}</p>
        ) : (
          <button type="button" class={run.sheet.two_people && open.length === 0 ? 'wide main-act' : 'wide'} onClick={() => setWitness(true)}>
            {say('run_end.witness')}
          </button>
        )}
        <button type="button" class={state.may_close ? 'wide main-act run-close' : 'wide'} disabled={busy || !state.may_close} onClick={() => void close()}>
          {say('run_end.close')}
        </button>
      </div>
      {witness && <Witness job={job} hand={hand} onClose={() => setWitness(false)} />}
    </div>
  )
}

/** Somebody who tightened none of the fasteners witnesses the run. */
function Witness({ job, hand, onClose }: { job: Job; hand: RunInHand; onClose: () => void }) {
  const run = hand.run!
  const hands = new Set(hand.state!.stages.flatMap((stage) => stage.done.map((row) => row.by)))
  return (
    <Second
      title={say('run_end.who')}
      act={say('run_end.sign')}
      notFor={(person) => (hands.has(person.id) ? say('run_end.own_work') : '')}
      onSign={async (second) => {
        await witnessRun(whereIn(job, run), run.id, '', second ?? undefined)
        navigator.vibrate?.(25)
        onClose()
      }}
      onClose={onClose}
    />
  )
}
