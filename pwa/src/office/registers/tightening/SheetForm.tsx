import { useMemo, useRef, useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import type { Fault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { STATES, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { post, ApiError } from '../../frame/api.ts'
import { Fault as Say } from '../../frame/Say.tsx'
import { go } from '../../frame/route.ts'
import { useFaults } from '../../frame/useFaults.ts'
import type { PreloadSaid } from '../../../trade/tightening/preload_estimate.ts'
import { useProposal } from './useProposal.ts'
import { faultsAt } from '../../frame/words.ts'
import { count } from '../../frame/words.ts'
import { drawnJoint, readForm, isRead, joints, preloadOf, touched, worthSaying } from './form.ts'
import { HoldLines } from './HoldLines.tsx'
import { JointPlan } from './JointPlan.tsx'
import { PhoneView } from './PhoneView.tsx'
import { PreloadView } from './PreloadView.tsx'
import { orderMarks } from './marks.ts'
import { STATE_WORDS } from './said.ts'
import type { SheetsShown } from './shapes.ts'
import { StageLines } from './StageLines.tsx'
import { ThreadCells } from './ThreadCells.tsx'
import { ToolsFor } from './ToolsFor.tsx'

interface Props {
  type: EngineType
  procedures: Procedure[]
  tools: SheetsShown['tools']
  start: TighteningSheet
  saved: (id: string) => void
}

/** Describes a tightening sheet. Beside the fields: the joint with the order of the stage at hand, and the phone's view. */
export function SheetForm({ type, procedures, tools, start, saved }: Props) {
  const [sheet, setSheet] = useState(start)
  const [at, turn] = useState(0)
  const [tried, setTried] = useState(false)
  const [refused, setRefused] = useState<Fault | null>(null)
  const put = (news: Partial<TighteningSheet>) => {
    setRefused(null)
    setSheet((was) => ({ ...was, ...news }))
  }
  const { value, known } = useMemo(() => readForm(sheet, type), [sheet, type])
  const { faults: found, checked, trouble, now } = useFaults('tightening_sheet', value)
  const all = [...known, ...found]
  const preload = useRef<PreloadSaid | null>(null)
  if (checked) preload.current = preloadOf(sheet, all)
  const faults = [...worthSaying(all, sheet, tried), ...(refused ? [refused] : [])]
  const wrong = (field: string) => faultsAt(faults, field)
  const fasteners = drawnJoint(type, sheet)?.fasteners ?? []
  const stage = sheet.stages[at] ?? sheet.stages[0]!
  const proposal = useProposal(type, sheet.joint)
  const keep = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (known.length || (await now()).length) return
    try {
      const told = await post<{ sheet: TighteningSheet }>(`/api/engine-types/${type.id}/tightening`, { sheet })
      saved(told.sheet.id)
    } catch (reason) {
      // What only the server knows, such as the tools of the register, is said at the field it names.
      const where = reason instanceof ApiError ? reason.where.replace(/^sheet\./, '') : ''
      setRefused({ where, message: reason instanceof ApiError ? reason.message : String(reason) })
    }
  }
  const touch = (label: string) => {
    const order = touched(stage.order, label)
    put({ stages: sheet.stages.map((one) => (one === stage ? { ...one, order, proposed: false } : one)) })
  }
  const leave = ['engine-types', type.id, 'tightening', ...(start.id ? [start.id] : [])]
  return (
    <section class="page type-form-page" aria-labelledby="sheet-form-title">
      <header class="page-head">
        <h1 id="sheet-form-title">{start.id ? `Describe anew: ${start.name}` : `New tightening sheet, ${type.name}`}</h1>
        {start.id && <p class="soft">runs already begun keep the sheet they were begun with</p>}
      </header>
      <form noValidate class="type-form sheet-form" onSubmit={keep}>
        <div class="type-form-fields">
          <Bolts type={type} sheet={sheet} put={put} wrong={wrong} />
          <StageLines stages={sheet.stages} put={(stages) => put({ stages })} faults={faults} fasteners={fasteners} proposal={proposal} at={at} turn={turn} />
          {wrong('stages') && faults.some(({ where }) => where === 'stages') && <p class="field-wrong">{wrong('stages')}</p>}
          <HoldLines type={type} procedures={procedures} holds={sheet.holds} put={(holds) => put({ holds })} faults={faults} />
          <label class="tick">
            <input type="checkbox" checked={sheet.two_people} onChange={(event) => put({ two_people: event.currentTarget.checked })} />
            <span>a second person witnesses it before it is closed</span>
          </label>
          <Field
            label="Source"
            value={sheet.source}
            onValue={(source) => put({ source })}
            needed
            hint="Whose data, which edition, which page: it is shown on the phone and in the pack."
            wrong={wrong('source')}
          />
          <Field label="Note" value={sheet.note} onValue={(note) => put({ note })} lines={2} wrong={wrong('note')} />
          {start.id && (
            <label class="tick">
              <input type="checkbox" checked={sheet.withdrawn} onChange={(event) => put({ withdrawn: event.currentTarget.checked })} />
              <span>withdrawn: no longer offered on the phones; runs stay</span>
            </label>
          )}
        </div>
        <aside class="type-form-drawing" aria-label="The joint">
          <p role="status" class="type-form-faults">
            {faults.length ? `${count(faults.length, 'thing')} to put right, said beside the fields.` : all.length ? 'Not all is written yet.' : checked ? 'It holds together.' : 'Being checked.'}
          </p>
          {tried && all.length > 0 && (
            <ul class="fault-list" aria-label="What to put right">
              {all.map((fault) => (
                <li key={fault.where + fault.message}>{fault.message}</li>
              ))}
            </ul>
          )}
          <Say>{refused?.message ?? trouble}</Say>
          <div class="acts">
            <button class="main-act">{start.id ? 'Keep this description' : 'Keep this sheet'}</button>
            <button type="button" class="plain" onClick={() => go(leave)}>
              Leave
            </button>
          </div>
          <Choice
            label="Order drawn"
            options={sheet.stages.map(({ words }, i) => ({ value: String(i), words: words || `stage ${i + 1}` }))}
            chosen={[String(at)]}
            onChoose={(index) => turn(Number(index))}
          />
          {fasteners.length > 0 ? (
            <>
              <JointPlan fasteners={fasteners} title={`Order of ${stage.words || `stage ${at + 1}`}`} marks={orderMarks(stage.order)} path={stage.order} choose={touch} />
              <p class="soft small">Under each bolt its number in the order. Touch the bolts in turn; the last one touched again is taken back.</p>
              <PhoneView sheet={sheet} stage={stage} fasteners={fasteners} />
            </>
          ) : (
            <p class="empty">This joint has no fasteners yet. Place them under the engine type, ‘Describe anew’.</p>
          )}
          {isRead(stage) && <ToolsFor stage={stage} tools={tools} />}
          <PreloadView said={preload.current} />
        </aside>
      </form>
    </section>
  )
}

interface BoltsProps {
  type: EngineType
  sheet: TighteningSheet
  put: (news: Partial<TighteningSheet>) => void
  wrong: (field: string) => string
}

/** Which joint, and with what bolts. */
function Bolts({ type, sheet, put, wrong }: BoltsProps) {
  const choices = joints(type)
  const known = choices.some(({ value }) => value === sheet.joint)
  const choose = (value: string) => {
    const was = choices.find((one) => one.value === sheet.joint)
    const name = sheet.name === '' || sheet.name === was?.name ? (choices.find((one) => one.value === value)?.name ?? '') : sheet.name
    put({ joint: value, name })
  }
  return (
    <>
      <div class="block">
        <Field
          label="Joint"
          value={sheet.joint}
          onValue={choose}
          options={[...(known ? [] : [{ value: sheet.joint, words: sheet.joint || 'choose' }]), ...choices]}
          wrong={wrong('joint') || wrong('engine_type')}
        />
        <Field label="Name" value={sheet.name} onValue={(name) => put({ name })} needed wrong={wrong('name')} />
        <ThreadCells sheet={sheet} put={put} wrong={wrong} />
        <Field
          label="Thread is"
          value={sheet.state}
          onValue={(state) => put({ state })}
          options={STATES.map((value) => ({ value, words: STATE_WORDS[value] || 'not said' }))}
          wrong={wrong('state')}
        />
        <Field
          label="Bolts"
          value={sheet.bolt}
          onValue={(bolt) => put({ bolt: bolt as TighteningSheet['bolt'], uses_most: bolt === 'stretch' && !sheet.uses_most && !sheet.length_most ? 1 : sheet.uses_most })}
          options={[
            { value: 'reusable', words: 'used again' },
            { value: 'stretch', words: 'stretch bolts' },
          ]}
        />
        <Whole
          label="May be tightened how often in all"
          value={sheet.uses_most}
          put={(uses_most) => put({ uses_most })}
          hint={sheet.bolt === 'stretch' ? '1: once, then new ones. 0: as long as their length allows.' : '0: as often as wanted.'}
          wrong={wrong('uses_most')}
        />
        <Field
          label="Greatest length, mm"
          value={sheet.length_most}
          onValue={(length_most) => put({ length_most })}
          figures
          keys="decimal"
          hint="Longer ones are not used again. Empty: none given."
          wrong={wrong('length_most')}
        />
      </div>
      {sheet.bolt === 'stretch' && (
        <p class="caution figures-caution">
          Stretch bolts have yielded: never check one that was turned by angle with a torque wrench, never use one beyond its length.
        </p>
      )}
    </>
  )
}

interface WholeProps {
  label: string
  value: number
  put: (value: number) => void
  hint: string
  wrong: string
}

/** A whole number; while something else stands there it is handed on as it is, so that the check can name it. */
function Whole({ label, value, put, hint, wrong }: WholeProps) {
  return (
    <Field
      label={label}
      value={String(value)}
      onValue={(text) => put(/^\d+$/.test(text.trim()) ? Number(text) : (text as unknown as number))}
      figures
      keys="numeric"
      hint={hint}
      wrong={wrong}
    />
  )
}
