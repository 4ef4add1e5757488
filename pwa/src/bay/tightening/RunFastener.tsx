import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { DoneRow } from '../../trade/tightening/run.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { useState } from 'preact/hooks'
import { StatusMessage } from '../frame/Frame.tsx'
import { doneAgainWords, nameOf, targetWords } from './runWords.ts'
import type { RunInHand } from './useRun.ts'
import { say } from '../frame/say.ts'

/** "60 N·m, the tool signalled its target, 10:41:52, by Tomas, wrench W1 set to 53.3 N·m" */
export function rowWords(row: DoneRow): string {
  const value = row.value ? targetWords({ target: row.value, unit: row.unit }) : row.method === 'release' ? say('run.released') : say('run.no_value')
  const signalled = row.given === 'tap' && row.value ? say('run.signalled') : ''
  const tool = row.set_value ? say('run.tool_set_to', { tool: row.tool, value: row.set_value }).trim() : row.tool
  return [value, signalled, row.at.slice(11, 19), say('run.by', { name: nameOf(row.by) }), tool].filter(Boolean).join(', ')
}

/** A fastener that is done already in this stage: what was recorded, to be recorded once more or withdrawn. */
export function RunFastener({ hand, label, onType, onClose }: { hand: RunInHand; label: string; onType: () => void; onClose: () => void }) {
  const { stage, state } = hand
  const rows = stage?.done.filter((row) => row.label === label) ?? []
  const last = rows.at(-1)
  const [taking, setTaking] = useState(false)
  if (taking && last) return <RunUndo hand={hand} row={last} onClose={onClose} />
  return (
    <Sheet title={say('run.number_title', { number: label })} onClose={onClose}>
      <ul class="run-rows ruled">
        {rows.map((row) => (
          <li key={row.entry}>{rowWords(row)}</li>
        ))}
      </ul>
      {rows.length === 0 && <p class="soft">{say('run.nothing_recorded')}</p>}
      {stage && !state!.closed && (
        <div class="stack">
          <button
            type="button"
            class="wide"
            disabled={hand.busy}
            onClick={() => {
              void hand.record(label)
              onClose()
            }}
          >
            {doneAgainWords(stage.method)}
          </button>
          <button
            type="button"
            class="wide"
            onClick={() => {
              onClose()
              onType()
            }}
          >
            {say('run.again_typed')}
          </button>
          <button type="button" class="wide" onClick={() => setTaking(true)}>
            {say('run.take_back')}
          </button>
        </div>
      )}
    </Sheet>
  )
}

const reasons = () => [say('run.reason_mistake'), say('run.reason_number'), say('run.reason_slipped')]

/** Withdraws one record with its reason; it stays readable. */
export function RunUndo({ hand, row, onClose }: { hand: RunInHand; row: DoneRow; onClose: () => void }) {
  const [reason, setReason] = useState('')
  const take = async (why: string) => {
    if (await hand.takeBack(row, why)) onClose()
  }
  return (
    <Sheet title={say('run.take_back_title', { number: row.label })} onClose={onClose}>
      <p>{rowWords(row)}</p>
      <div class="stack">
        {reasons().map((why, i) => (
          <button key={why} type="button" class={i === 0 ? 'wide main-act' : 'wide'} disabled={hand.busy} onClick={() => void take(why)}>
            {why}
          </button>
        ))}
        <form
          class="own-word"
          onSubmit={(event) => {
            event.preventDefault()
            if (reason.trim()) void take(reason.trim())
          }}
        >
          <Field label={say('run.other_reason')} value={reason} onValue={setReason} />
          <button type="submit" disabled={hand.busy || !reason.trim()}>
            {say('answer.withdraw')}
          </button>
        </form>
        <StatusMessage words={hand.message.wrong ? hand.message.words : ''} wrong />
      </div>
    </Sheet>
  )
}
