import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { Fault } from '../../frame/Say.tsx'
import { parted } from '../record/Amend.tsx'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { job } from '../record/state.ts'
import { KINDS, TYPED } from '../../../trade/record/kinds.ts'
import { PlaceField } from './PlaceField.tsx'
import { located, placeAtHand, useDesk } from './useDesk.ts'

/** A note in plain words. */
export function NoteForm({ close }: { close: () => void }) {
  const [text, setText] = useState('')
  const [where, setWhere] = useState(placeAtHand)
  const { fault, setFault, sending, send } = useDesk()
  const keep = async (event: Event) => {
    event.preventDefault()
    if (!text.trim()) return setFault('Write the note first.')
    if (await send({ kind: 'note_made', location: located(where), body: { text: text.trim() }, media: [] })) close()
  }
  return (
    <form noValidate class="block" onSubmit={keep}>
      <div class="wide">
        <Field label="Note" value={text} onValue={setText} lines={5} needed />
      </div>
      <PlaceField value={where} put={setWhere} />
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Add the note
        </button>
      </div>
    </form>
  )
}

const DISPOSITIONS = Object.entries(KINDS['finding_made']!.fields['disposition']!.of!).map(([value, words]) => ({ value, words: words || 'not said' }))

/** A finding keeps what is seen apart from why it may have happened. */
export function FindingForm({ close }: { close: () => void }) {
  const [seen, setSeen] = useState('')
  const [condition, setCondition] = useState('')
  const [opinion, setOpinion] = useState('')
  const [disposition, setDisposition] = useState('')
  const [where, setWhere] = useState(placeAtHand)
  const { fault, setFault, sending, send } = useDesk()
  const keep = async (event: Event) => {
    event.preventDefault()
    if (!seen.trim()) return setFault('Write what is seen. An opinion alone is not a finding.')
    const body = { observation: seen.trim(), condition: parted(condition), opinion: opinion.trim(), disposition, ...TYPED }
    if (await send({ kind: 'finding_made', location: located(where), body, media: [] })) close()
  }
  return (
    <form noValidate class="block" onSubmit={keep}>
      <PlaceField value={where} put={setWhere} />
      <div class="wide">
        <Field label="Seen" value={seen} onValue={setSeen} lines={4} needed hint="What anyone would see or measure." />
      </div>
      <div class="wide">
        <Field
          label="Condition"
          value={condition}
          onValue={setCondition}
          hint="Words of the trade, parted by commas: scored, fretted, wrong way round."
        />
      </div>
      <div class="wide">
        <Field
          label="Opinion"
          value={opinion}
          onValue={setOpinion}
          lines={3}
          hint="Why it may have happened. It is shown as an opinion."
        />
      </div>
      <Field label="To do" value={disposition} onValue={setDisposition} options={DISPOSITIONS} />
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Add the finding
        </button>
      </div>
    </form>
  )
}

/** Takes the job to another stage, forward or back. */
export function StageForm({ close }: { close: () => void }) {
  const now = job.value?.stage ?? ''
  const [stage, setStage] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const keep = async (event: Event) => {
    event.preventDefault()
    if (!stage) return setFault('Choose the stage the job has reached.')
    if (await send({ kind: 'stage_reached', location: null, body: { stage }, media: [] })) close()
  }
  return (
    <form noValidate class="stage-form" onSubmit={keep}>
      <fieldset>
        <legend>The job stands at ‘{stageWords(now)}’. It has reached</legend>
        <ol>
          {STAGES.map(({ code, words }) => (
            <li key={code}>
              <label>
                <input
                  type="radio"
                  name="stage"
                  checked={stage === code}
                  disabled={code === now}
                  onChange={() => setStage(code)}
                />
                <span>{words}</span>
                {code === now && <span class="soft"> now</span>}
              </label>
            </li>
          ))}
        </ol>
      </fieldset>
      <Fault>{fault}</Fault>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Record the stage
        </button>
      </div>
    </form>
  )
}
