import { useMemo } from 'preact/hooks'
import { tighten } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import type { DrawnType } from '../../parts/engine/engine_drawings.ts'
import { type EngineType, type Job, type Row, timeline } from '../../store/index.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import { KINDS } from '../../trade/record/kinds.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { Strip } from '../frame/Strip.tsx'
import { lastUsed, remember } from '../frame/hand.ts'
import { nameOfPlace, placesOf, shortName } from '../frame/places.ts'
import { say } from '../frame/say.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useStored } from '../frame/useStored.ts'
import { standingOf } from '../job/readAs.ts'
import { unitsFor } from '../frame/quantities.ts'

const BLANK = { fastener: '', value: '', unit: '', method: '', tool: '', state: '', remark: '' }
type Form = typeof BLANK
type Change = (change: Partial<Form>) => void

// The stretch of a bolt is read off a dial or a micrometer; by feel there is no unit.
const UNITS_OF: Record<string, string[]> = { torque: unitsFor('torque'), angle: unitsFor('angle'), stretch: unitsFor('dial'), feel: [''] }

const choices = (field: string) =>
  Object.entries((KINDS.fastener_tightened!.fields[field] as { of?: Record<string, string> }).of ?? {})
    .filter(([code]) => code !== '')
    .map(([value, words]) => ({ value, words }))

/** One fastener tightened or released: as it was done, whatever a tightening sheet asks. */
export function Torque({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const { form, units, next, ready, change, save, message, busy } = useFastener(job, type)
  return (
    <Screen
      title={say('tighten.title', { place: nameOfPlace(job, at.place, at.point) })}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct />
          <Act name={busy ? say('common.saving') : next ? say('torque.save_next') : say('common.save')} main off={busy || !ready} onAct={() => void save()} />
        </>
      }
    >
      <div class="measure stack scrolls">
        {type && <Joints job={job} type={type} at={at.place} />}
        <FastenerForm form={form} units={units} change={change} />
        <p class="caution small">{say('torque.caution')}</p>
        <StatusMessage words={message.words} wrong={message.wrong} />
        <DoneBefore job={job} />
      </div>
      <Keypad value={form.value} onValue={(value) => change({ value })} />
    </Screen>
  )
}

/** What is being typed on this screen, completed by what was used last, and the saving of it. */
function useFastener(job: Job, type: EngineType | null) {
  const at = useWhere(job)
  const draft = useDraft(`torque/${job.id}`, BLANK)
  const { message, busy, attempt } = useSaving()
  const place = useMemo(() => (type ? placesOf(type).find((p) => p.code === at.place) : undefined), [type, at.place])
  const isFastener = place ? PARTS[place.part]?.per === 'fastener' : false
  const next = isFastener && type && place ? following(placesOf(type), place.code) : null
  const { form, units } = completed(draft.value, isFastener && place ? shortName(place) : '')
  const save = async () => {
    const { fastener, value, unit, method, tool, state, remark } = form
    const tightened = { fastener: fastener.trim(), value, unit: value ? unit : '', method, tool: tool.trim(), state, remark: remark.trim() }
    const words = value ? say('torque.saved_value', { fastener: tightened.fastener, value: `${value} ${unit}` }) : say('torque.saved', { fastener: tightened.fastener })
    if (!(await attempt(() => tighten(at, tightened), words))) return
    remember('method', method)
    remember(`unit/${method}`, unit)
    remember('tool', tightened.tool)
    remember('state', state)
    await draft.done()
    if (next) goTo(job, next)
  }
  const ready = Boolean(form.fastener.trim()) && (form.method === 'feel' || /\d/.test(form.value))
  return { form, units, next, ready, change: draft.change as Change, save, message, busy }
}

function completed(typed: Form, fastener: string): { form: Form; units: string[] } {
  const method = typed.method || lastUsed('method') || 'torque'
  const units = UNITS_OF[method] ?? unitsFor('torque')
  const unit = [typed.unit, lastUsed(`unit/${method}`)].find((wanted) => wanted && units.includes(wanted)) ?? units[0] ?? ''
  const form = { ...typed, fastener: typed.fastener || fastener, method, unit, tool: typed.tool || lastUsed('tool'), state: typed.state || lastUsed('state') }
  return { form, units }
}

function FastenerForm({ form, units, change }: { form: Form; units: string[]; change: Change }) {
  const { fastener, value, unit, method, tool, state, remark } = form
  return (
    <>
      <Field label={say('common.fastener')} value={fastener} onValue={(text) => change({ fastener: text })} needed />
      <div class="reading on-line">
        <input
          class="reading-value figure"
          inputMode="none"
          autoComplete="off"
          aria-label={say('common.value')}
          value={value}
          placeholder={method === 'feel' ? say('torque.by_feel') : '0'}
          onInput={(event) => change({ value: event.currentTarget.value.replace(',', '.').replace(/[^\d.]/g, '') })}
        />
        <label class="reading-unit">
          <span class="unseen">{say('common.unit')}</span>
          <select value={unit} onChange={(event) => change({ unit: event.currentTarget.value })}>
            {units.map((u) => (
              <option key={u} value={u}>
                {u || say('torque.no_unit')}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div class="halves">
        <Field label={say('torque.method')} value={method} onValue={(text) => change({ method: text, unit: '' })} options={choices('method')} />
        <Field label={say('common.tool')} value={tool} onValue={(text) => change({ tool: text })} />
      </div>
      <Choice label={say('torque.thread')} options={choices('state')} chosen={[state]} onChoose={(chosen) => change({ state: chosen })} />
      <Field label={say('common.remark')} value={remark} onValue={(text) => change({ remark: text })} />
    </>
  )
}

function DoneBefore({ job }: { job: Job }) {
  const rows = useStored<Row[]>([], () => timeline(job.id, { kinds: ['fastener_tightened'], limit: 4 }), [job.id])
  if (rows.length === 0) return null
  return (
    <ul class="readings" aria-label={say('torque.done')}>
      {rows.map((row) => {
        const { fastener, value, method, unit } = standingOf(row).body as Record<string, string>
        return (
          <li key={row.id}>
            {fastener} <span class="figure">{value || method}</span> {unit} <span class="small soft">{row.entry.claimed.slice(11, 19)}</span>
          </li>
        )
      })}
    </ul>
  )
}

/** The joints of the engine, and the fasteners of the joint in hand: choosing a fastener is being there. */
function Joints({ job, type, at }: { job: Job; type: EngineType; at: string }) {
  const joints = (type as unknown as DrawnType).joints
  const now = joints.find((j) => at.startsWith(`${j.code}/`))
  return (
    <div>
      <Strip
        name={say('tighten.joint')}
        kind="inset"
        items={joints.map((j) => ({ value: j.code, words: j.name }))}
        chosen={now?.code ?? ''}
        onChoose={(code) => goTo(job, `${code}/${joints.find((j) => j.code === code)?.fasteners[0]?.label ?? 1}`)}
      />
      {now && (
        <Strip
          name={say('torque.number')}
          kind="inset"
          items={now.fasteners.map((f) => ({ value: `${now.code}/${f.label}`, words: f.label, name: say('run.number', { number: f.label }) }))}
          chosen={at}
          onChoose={(code) => goTo(job, code)}
        />
      )}
    </div>
  )
}

/** The fastener after this one in the same joint, in the order of its numbers; null after the last. */
function following(all: { code: string }[], code: string): string | null {
  const joint = code.slice(0, code.lastIndexOf('/') + 1)
  const own = all.filter((p) => p.code.startsWith(joint) && !p.code.slice(joint.length).includes('/')).map((p) => p.code)
  own.sort((a, b) => Number(a.slice(joint.length)) - Number(b.slice(joint.length)))
  return own[own.indexOf(code) + 1] ?? null
}
