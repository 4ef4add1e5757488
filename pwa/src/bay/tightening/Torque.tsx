import { useMemo } from 'preact/hooks'
import { tighten } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import type { DrawnType } from '../../parts/engine/engine_drawings.ts'
import { type EngineType, type Job, type Row, timeline } from '../../store/index.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import { KINDS } from '../../trade/record/kinds.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { Strip } from '../frame/Strip.tsx'
import { lastUsed, remember } from '../frame/hand.ts'
import { nameOfPlace, placesOf, shortName } from '../frame/places.ts'
import { standingOf } from '../job/readAs.ts'
import { useAsked } from '../frame/useAsked.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { unitsFor } from '../frame/quantities.ts'

const BLANK = { fastener: '', value: '', unit: '', method: '', tool: '', state: '', remark: '' }
// The stretch of a bolt is read off a dial or a micrometer; by feel there is no unit.
const UNITS_OF: Record<string, string[]> = { torque: unitsFor('torque'), angle: unitsFor('angle'), stretch: unitsFor('dial'), feel: [''] }

const choices = (field: string) =>
  Object.entries((KINDS.fastener_tightened!.fields[field] as { of?: Record<string, string> }).of ?? {}).filter(([code]) => code !== '')

/** One fastener tightened or let go: as it was done, whatever the sheet says. */
export function Torque({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const draft = useDraft(`torque/${job.id}`, BLANK)
  const { told, busy, keep } = useSaving()
  const v = draft.value
  const place = useMemo(() => (type ? placesOf(type).find((p) => p.code === at.place) : undefined), [type, at.place])
  const isFastener = place ? PARTS[place.part]?.per === 'fastener' : false
  const fastener = v.fastener || (isFastener && place ? shortName(place) : '')
  const method = v.method || lastUsed('method') || 'torque'
  const units = UNITS_OF[method] ?? unitsFor('torque')
  const unit = units.includes(v.unit) ? v.unit : units.includes(lastUsed(`unit/${method}`)) ? lastUsed(`unit/${method}`) : (units[0] ?? '')
  const tool = v.tool || lastUsed('tool')
  const state = v.state || lastUsed('state')
  const done = useAsked<Row[]>([], () => timeline(job.id, { kinds: ['fastener_tightened'], limit: 4 }), [job.id])
  const next = isFastener && type && place ? following(placesOf(type), place.code) : null
  const save = async () => {
    const tightened = { fastener: fastener.trim(), value: v.value, unit: v.value ? unit : '', method, tool: tool.trim(), state, remark: v.remark.trim() }
    if (!(await keep(() => tighten(at, tightened), `Saved: ${tightened.fastener}${v.value ? `, ${v.value} ${unit}` : ''}.`))) return
    remember('method', method)
    remember(`unit/${method}`, unit)
    remember('tool', tightened.tool)
    remember('state', state)
    await draft.done()
    if (next) goTo(job, next)
  }
  const ready = Boolean(fastener.trim()) && (method === 'feel' || /\d/.test(v.value))
  return (
    <Screen
      title={`Torque, ${nameOfPlace(job, at.place, at.point)}`}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct />
          <Act name={busy ? 'Saving' : isFastener && next ? 'Keep, next bolt' : 'Keep'} main off={busy || !ready} onAct={() => void save()} />
        </>
      }
    >
      <div class="measure">
        {type && <Joints job={job} type={type} at={at.place} />}
        <Field label="Fastener" value={fastener} onValue={(text) => draft.change({ fastener: text })} needed />
        <div class="reading">
          <input
            class="reading-value figure"
            inputMode="none"
            autoComplete="off"
            aria-label={`Value, ${method}`}
            value={v.value}
            placeholder={method === 'feel' ? 'by feel' : '0'}
            onInput={(event) => draft.change({ value: event.currentTarget.value.replace(',', '.').replace(/[^\d.]/g, '') })}
          />
          <label class="reading-unit">
            <span class="unseen">Unit</span>
            <select value={unit} onChange={(event) => draft.change({ unit: event.currentTarget.value })}>
              {units.map((u) => (
                <option key={u} value={u}>
                  {u || 'none'}
                </option>
              ))}
            </select>
          </label>
        </div>
        <div class="reading-with">
          <Field
            label="How"
            value={method}
            onValue={(text) => draft.change({ method: text, unit: '' })}
            options={choices('method').map(([value, words]) => ({ value, words }))}
          />
          <Field label="Tool" value={tool} onValue={(text) => draft.change({ tool: text })} />
        </div>
        <Choice label="Thread" options={choices('state').map(([value, words]) => ({ value, words }))} chosen={[state]} onChoose={(s) => draft.change({ state: s })} />
        <Field label="Remark" value={v.remark} onValue={(remark) => draft.change({ remark })} />
        <p class="caution small">The maker's data comes first. A stretch bolt is used once.</p>
        <Told words={told.words} wrong={told.wrong} />
        {done.length > 0 && (
          <ul class="readings" aria-label="Tightened, newest first">
            {done.map((row) => {
              const b = standingOf(row).body as Record<string, string>
              return (
                <li key={row.id}>
                  {b.fastener} <span class="figure">{b.value || b.method}</span> {b.unit} <span class="small soft">{row.entry.claimed.slice(11, 19)}</span>
                </li>
              )
            })}
          </ul>
        )}
      </div>
      <Keypad value={v.value} onValue={(value) => draft.change({ value })} />
    </Screen>
  )
}

/** The joints of the engine, and the fasteners of the one in hand: choosing one is being there. */
function Joints({ job, type, at }: { job: Job; type: EngineType; at: string }) {
  const joints = (type as unknown as DrawnType).joints
  const now = joints.find((j) => at.startsWith(`${j.code}/`))
  return (
    <div>
      <Strip
        name="Joint"
        kind="inset"
        items={joints.map((j) => ({ value: j.code, words: j.name }))}
        chosen={now?.code ?? ''}
        onChoose={(code) => goTo(job, `${code}/${joints.find((j) => j.code === code)?.fasteners[0]?.label ?? 1}`)}
      />
      {now && (
        <Strip
          name="Number"
          kind="inset"
          items={now.fasteners.map((f) => ({ value: `${now.code}/${f.label}`, words: f.label, name: `number ${f.label}` }))}
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
