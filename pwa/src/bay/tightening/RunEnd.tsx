import { useState } from 'preact/hooks'
import { closeRun, witnessRun } from '../../capture/index.ts'
import type { Job } from '../../store/index.ts'
import { Told } from '../frame/Frame.tsx'
import { nameOf } from './runWords.ts'
import { Second } from '../people/Second.tsx'
import { type RunInHand, whereIn } from './useRun.ts'
import { useSaving } from '../frame/useSaving.ts'
import { clockTime, count } from '../frame/words.ts'

/** After the last fastener: what is missing before the sheet may be closed, a second person's witness, the closing. */
export function RunEnd({ job, hand, onDepartures }: { job: Job; hand: RunInHand; onDepartures: () => void }) {
  const { told, busy, keep } = useSaving()
  const [witness, setWitness] = useState(false)
  const run = hand.run!
  const state = hand.state!
  const open = state.departures.filter((one) => !one.answered)
  const rest = state.missing.filter((words) => !open.some((one) => words.startsWith(one.words)))
  const hands = new Set(state.stages.flatMap((one) => one.done.map((row) => row.by)))
  if (state.closed) {
    return (
      <div class="run-end">
        <p>
          <strong>Closed</strong> by {nameOf(state.closed.by)}, {clockTime(state.closed.at)}.
          {state.witnessed && ` Witnessed by ${nameOf(state.witnessed.by)}.`}
        </p>
        {state.missing.map((words) => (
          <p key={words} class="small">
            {words}
          </p>
        ))}
        {open.length > 0 && (
          <button type="button" class="wide" onClick={onDepartures}>
            Answer {count(open.length, 'departure')}
          </button>
        )}
      </div>
    )
  }
  return (
    <div class="run-end">
      <p>
        <strong>{state.complete ? 'Every fastener is done.' : 'Nothing more is asked for.'}</strong> {state.may_close ? 'Nothing is missing.' : 'Before the sheet may be closed:'}
      </p>
      {rest.length > 0 && (
        <ul class="settle">
          {rest.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      <Told words={told.words} wrong={told.wrong} />
      <div class="stack">
        {open.length > 0 && (
          <button type="button" class="wide main-act" onClick={onDepartures}>
            Answer {count(open.length, 'departure')}
          </button>
        )}
        {!state.witnessed && (
          <button type="button" class={run.sheet.two_people && open.length === 0 ? 'wide main-act' : 'wide'} onClick={() => setWitness(true)}>
            A second person witnesses it
          </button>
        )}
        {state.witnessed && <p class="small">Witnessed by {nameOf(state.witnessed.by)}, {clockTime(state.witnessed.at)}.</p>}
        <button type="button" class={state.may_close ? 'wide main-act run-close' : 'wide'} disabled={busy || !state.may_close} onClick={() => void keep(() => closeRun(whereIn(job, run), run.id, ''), 'Saved: closed.')}>
          Close the sheet
        </button>
      </div>
      {witness && (
        <Second
          title="Who witnesses it?"
          act="Sign as witness"
          notFor={(person) => (hands.has(person.id) ? 'tightened it' : '')}
          onSign={async (second) => {
            await witnessRun(whereIn(job, run), run.id, '', second ?? undefined)
            navigator.vibrate?.(25)
            setWitness(false)
          }}
          onClose={() => setWitness(false)}
        />
      )}
    </div>
  )
}
