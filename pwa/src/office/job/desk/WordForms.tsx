import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { FaultNotice } from '../../frame/notices.tsx'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { job } from '../record/state.ts'
import { separated } from '../../../trade/record/fields.ts'
import { KINDS, TYPED } from '../../../trade/record/kinds.ts'
import { PlaceField } from './PlaceField.tsx'
import { located, placeAtHand, useDesk } from './useDesk.ts'
import { say } from '../../frame/say.ts'

/** A note in plain words. */
export function NoteForm({ close }: { close: () => void }) {
  const [text, setText] = useState('')
  const [where, setWhere] = useState(placeAtHand)
  const { fault, setFault, sending, send } = useDesk()
  const save = async (event: Event) => {
    event.preventDefault()
    if (!text.trim()) return setFault(say('desk.note_needed'))
    if (await send({ kind: 'note_made', location: located(where), body: { text: text.trim() }, media: [] })) close()
  }
  return (
    <form noValidate class="block halves" onSubmit={save}>
      <div class="wide">
        <Field label={say('desk.note')} value={text} onValue={setText} lines={5} needed />
      </div>
      <PlaceField value={where} put={setWhere} />
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {say('desk.save_note')}
        </button>
      </div>
    </form>
  )
}

const DISPOSITIONS = Object.entries(KINDS['finding_made']!.fields['disposition']!.of!).map(([value, words]) => ({ value, words: words || say('record.not_given') }))

/** A finding: what you see, and apart from it the opinion why it may have happened. */
export function FindingForm({ close }: { close: () => void }) {
  const [observation, setObservation] = useState('')
  const [condition, setCondition] = useState('')
  const [opinion, setOpinion] = useState('')
  const [disposition, setDisposition] = useState('')
  const [where, setWhere] = useState(placeAtHand)
  const { fault, setFault, sending, send } = useDesk()
  const save = async (event: Event) => {
    event.preventDefault()
    if (!observation.trim()) return setFault(say('desk.observation_needed'))
    const body = { observation: observation.trim(), condition: separated(condition), opinion: opinion.trim(), disposition, ...TYPED }
    if (await send({ kind: 'finding_made', location: located(where), body, media: [] })) close()
  }
  return (
    <form noValidate class="block halves" onSubmit={save}>
      <PlaceField value={where} put={setWhere} />
      <div class="wide">
        <Field label={say('desk.observation')} value={observation} onValue={setObservation} lines={4} needed hint={say('desk.observation_hint')} />
      </div>
      <div class="wide">
        <Field
          label={say('desk.condition')}
          value={condition}
          onValue={setCondition}
          hint={say('desk.condition_hint')}
        />
      </div>
      <div class="wide">
        <Field
          label={say('desk.opinion')}
          value={opinion}
          onValue={setOpinion}
          lines={3}
          hint={say('desk.opinion_hint')}
        />
      </div>
      <Field label={say('desk.to_do')} value={disposition} onValue={setDisposition} options={DISPOSITIONS} />
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {say('desk.save_finding')}
        </button>
      </div>
    </form>
  )
}

/** Moves the job to another stage, forward or back. */
export function StageForm({ close }: { close: () => void }) {
  const now = job.value?.stage ?? ''
  const [stage, setStage] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const save = async (event: Event) => {
    event.preventDefault()
    if (!stage) return setFault(say('desk.stage_needed'))
    if (await send({ kind: 'stage_reached', location: null, body: { stage }, media: [] })) close()
  }
  return (
    <form noValidate class="stage-form" onSubmit={save}>
      <fieldset>
        <legend class="bold">{say('desk.stage_now', { stage: stageWords(now) })}</legend>
        <ol>
          {STAGES.map(({ code, words }) => (
            <li key={code}>
              <label class="tick along hair-under">
                <input
                  type="radio"
                  name="stage"
                  checked={stage === code}
                  disabled={code === now}
                  onChange={() => setStage(code)}
                />
                <span>{words}</span>
                {code === now && <span class="soft"> {say('facts.now')}</span>}
              </label>
            </li>
          ))}
        </ol>
      </fieldset>
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {say('desk.save_stage')}
        </button>
      </div>
    </form>
  )
}
