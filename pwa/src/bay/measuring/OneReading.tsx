import { useMemo, useState } from 'preact/hooks'
import { measure } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import { type EngineType, type Job, type Row, timeline } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { lastUsed, remember } from '../frame/hand.ts'
import { nameOfPlace, pointsOf } from '../frame/places.ts'
import { say } from '../frame/say.ts'
import { quantitiesFor, quantityWords, unitsFor } from '../frame/quantities.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { useStored } from '../frame/useStored.ts'
import { sentence } from '../frame/words.ts'
import { Points } from '../job/Points.tsx'
import { standingOf } from '../job/readAs.ts'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { typed } from './grid.ts'
import { GaugeSheet, WithRow, WithSheet, type WithWhat } from './GridWith.tsx'
import { SpokenMeasure, SpokenReadingActs, SpokenReadingMessage, useSpokenReading } from './SpokenMeasure.tsx'
import { gaugeInHand, withOf } from './useWith.ts'
import { UnitSheet } from '../../parts/controls/UnitSheet.tsx'
import './one_reading.css'

const BLANK = { value: '', quantity: '', unit: '', remark: '' }

/** One reading outside any procedure: what it is of, the figure as it stands on the gauge, its unit, and the gauge. */
export function OneReading({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const reading = useTypedReading(job, type)
  const { quantity, units, unit, gauge, value, busy, message, wrong } = reading
  const [opened, setOpened] = useState<WithWhat | null>(null)
  const spoken = useSpokenReading(job, type, quantity, reading.remark.trim())
  const write = (next: string) => {
    spoken.forget()
    reading.write(next)
  }
  const close = () => setOpened(null)
  return (
    <Screen
      title={say('reading.title', { place: nameOfPlace(job, at.place, at.point) })}
      quiet
      job={job}
      full
      acts={
        <>
          {spoken.phase === 'proposed' ? (
            <SpokenReadingActs spoken={spoken} />
          ) : (
            <TypedActs busy={busy} off={busy || !value.trim() || !quantity} onSave={() => void reading.save()} />
          )}
          <TalkAct spoken={spoken} />
        </>
      }
    >
      <div class="measure stack scrolls">
        <WithRow job={job} gauge={gauge} onOpen={setOpened} />
        <Choice label={say('common.what_is_measured')} options={reading.offered.map((q) => ({ value: q.code, words: q.short }))} chosen={[quantity]} onChoose={reading.chooseQuantity} />
        {type && <Points job={job} type={type} />}
        <Value quantity={quantity} value={value} unit={unit} onValue={write} />
        <SpokenReadingMessage spoken={spoken} />
        <StatusMessage words={wrong || message.words} wrong={Boolean(wrong) || message.wrong} />
        <Field label={say('common.remark')} value={reading.remark} onValue={reading.setRemark} />
        <Readings job={job} place={at.place} />
      </div>
      <div class="grid-hand keeps">
        <FigureKeys value={value} onValue={write} unit={unit} onUnit={() => setOpened('unit')} />
        <SpokenMeasure spoken={spoken} />
      </div>
      {opened === 'unit' && <UnitSheet units={units} now={unit} onChoose={reading.chooseUnit} onClose={close} />}
      {opened === 'gauge' && <GaugeSheet procedure="" quantity={quantity} amount="" unit={unit} now={gauge} onClose={close} />}
      {opened === 'state' && <WithSheet job={job} code="" onClose={close} />}
    </Screen>
  )
}

/** The quantity measured at a part and its unit: as chosen, else as used last, else the usual. */
function useQuantity(part: string, chosen: { quantity: string; unit: string }) {
  const offered = useMemo(() => quantitiesFor(part), [part])
  const quantity = chosen.quantity || lastUsed(`quantity/${part}`) || offered[0]?.code || ''
  const units = unitsFor(quantity)
  const unit = [chosen.unit, lastUsed(`unit/${quantity}`)].find((wanted) => wanted && units.includes(wanted)) ?? units[0] ?? ''
  return { offered, quantity, units, unit }
}

/** What is being typed on this screen, with its draft on the phone, and the saving of it. */
function useTypedReading(job: Job, type: EngineType | null) {
  const at = useWhere(job)
  const part = at.place.split('/')[0] ?? ''
  const draft = useDraft(`measure/${job.id}`, BLANK)
  const { message, busy, attempt, forget } = useSaving()
  const [wrong, setWrong] = useState('')
  const v = draft.value
  const { offered, quantity, units, unit } = useQuantity(part, v)
  const gauge = gaugeInHand('', quantity)
  const save = async () => {
    let read
    try {
      read = typed(quantity, v.value, unit)
    } catch (fault) {
      return setWrong(sentence(fault))
    }
    const next = type && at.point ? pointAfter(pointsOf(type, at.place), at.point) : ''
    const body = { procedure: '', edition: 0, reading: '', quantity, ...read, gauge: gauge.name, gauge_id: gauge.id, remark: v.remark.trim(), ...withOf(job) }
    const value = `${read.value} ${read.unit}`.trim()
    const words = next ? say('reading.saved_next', { value, point: next }) : say('reading.saved', { value })
    if (!(await attempt(() => measure(at, body), words))) return
    remember(`quantity/${part}`, quantity)
    await draft.done()
    if (next) goTo(job, at.place, next)
  }
  return {
    offered, quantity, units, unit, gauge, message, busy, wrong, save,
    value: v.value,
    remark: v.remark,
    setRemark: (remark: string) => draft.change({ remark }),
    chooseQuantity: (code: string) => draft.change({ quantity: code, unit: '' }),
    chooseUnit: (chosen: string) => {
      remember(`unit/${quantity}`, chosen)
      draft.change({ unit: '' })
    },
    write: (value: string) => {
      setWrong('')
      forget()
      draft.change({ value })
    },
  }
}

function Value({ quantity, value, unit, onValue }: { quantity: string; value: string; unit: string; onValue: (value: string) => void }) {
  return (
    <div class="reading on-line">
      <input
        class="reading-value figure"
        inputMode="none"
        autoComplete="off"
        aria-label={say('reading.value', { quantity: quantityWords(quantity) })}
        value={value}
        placeholder="0"
        onInput={(event) => onValue(event.currentTarget.value)}
      />
      <span class="grid-unit large">{unit}</span>
    </div>
  )
}

function TypedActs({ busy, off, onSave }: { busy: boolean; off: boolean; onSave: () => void }) {
  return (
    <>
      <BackAct />
      <Act name={busy ? say('common.saving') : say('common.save_next')} main off={off} onAct={onSave} />
    </>
  )
}

/** The point after the one just read, in the order they are offered; '' after the last. */
function pointAfter(points: readonly string[], point: string): string {
  return points[points.indexOf(point) + 1] ?? ''
}

function Readings({ job, place }: { job: Job; place: string }) {
  const rows = useStored<Row[]>([], () => timeline(job.id, { kinds: ['measured'], place: place || undefined, limit: 4 }), [job.id, place])
  if (rows.length === 0) return null
  return (
    <ul class="readings" aria-label={say('reading.here')}>
      {rows.map((row) => {
        const { value, unit, quantity } = standingOf(row).body as Record<string, string>
        return (
          <li key={row.id} class={row.withdrawn ? 'is-withdrawn' : ''}>
            <span class="figure">{value}</span> {unit} <span class="small soft">{row.point || quantityWords(quantity ?? '')}</span>
          </li>
        )
      })}
    </ul>
  )
}
