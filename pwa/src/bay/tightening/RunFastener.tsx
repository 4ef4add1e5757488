import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { DoneRow } from '../../trade/tightening/run.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { useState } from 'preact/hooks'
import { Told } from '../frame/Frame.tsx'
import { nameOf } from './runWords.ts'
import { DONE, targetWords } from './runWords.ts'
import type { RunInHand } from './useRun.ts'

/** "60 N·m as the tool told, 10:41:52, by Tomas, wrench W1 set to 53.3 N·m" */
export function rowWords(row: DoneRow): string {
  const value = row.value ? targetWords({ target: row.value, unit: row.unit }) : row.method === 'release' ? 'let go' : 'no value'
  const tool = [row.tool, row.set_value && `set to ${row.set_value}`].filter(Boolean).join(' ')
  return [`${value}${row.given === 'tap' && row.value ? ' as the tool told' : ''}`, row.at.slice(11, 19), `by ${nameOf(row.by)}`, tool].filter(Boolean).join(', ')
}

/** A fastener that is done already in this stage: what was recorded, and to record it once more or take it back. */
export function RunFastener({ hand, label, onType, onClose }: { hand: RunInHand; label: string; onType: () => void; onClose: () => void }) {
  const { stage, state } = hand
  const rows = stage?.done.filter((row) => row.label === label) ?? []
  const last = rows.at(-1)
  const [taking, setTaking] = useState(false)
  if (taking && last) return <RunUndo hand={hand} row={last} onClose={onClose} />
  return (
    <Sheet title={`Number ${label}`} onClose={onClose}>
      <ul class="run-rows">
        {rows.map((row) => (
          <li key={row.entry}>{rowWords(row)}</li>
        ))}
      </ul>
      {rows.length === 0 && <p class="soft">Nothing is recorded of it in this stage.</p>}
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
            It was {DONE[stage.method]} again
          </button>
          <button
            type="button"
            class="wide"
            onClick={() => {
              onClose()
              onType()
            }}
          >
            Again, with a typed value
          </button>
          <button type="button" class="wide" onClick={() => setTaking(true)}>
            Take it back
          </button>
        </div>
      )}
    </Sheet>
  )
}

const REASONS = ['tapped by mistake', 'wrong number touched', 'the tool slipped']

/** Takes one record back with its reason; it stays readable. */
export function RunUndo({ hand, row, onClose }: { hand: RunInHand; row: DoneRow; onClose: () => void }) {
  const [reason, setReason] = useState('')
  const take = async (why: string) => {
    if (await hand.takeBack(row, why)) onClose()
  }
  return (
    <Sheet title={`Take number ${row.label} back`} onClose={onClose}>
      <p>{rowWords(row)}</p>
      <div class="stack">
        {REASONS.map((why, i) => (
          <button key={why} type="button" class={i === 0 ? 'wide main-act' : 'wide'} disabled={hand.busy} onClick={() => void take(why)}>
            {why.charAt(0).toUpperCase() + why.slice(1)}
          </button>
        ))}
        <form
          class="own-word"
          onSubmit={(event) => {
            event.preventDefault()
            if (reason.trim()) void take(reason.trim())
          }}
        >
          <Field label="Another reason" value={reason} onValue={setReason} />
          <button type="submit" disabled={hand.busy || !reason.trim()}>
            Take back
          </button>
        </form>
        <Told words={hand.told.wrong ? hand.told.words : ''} wrong />
      </div>
    </Sheet>
  )
}
