// Saves the readings of a measurement sheet, each at its place with gauge and conditions.
import { measure } from '../../capture/index.ts'
import type { Job } from '../../store/index.ts'
import type { Spoken } from '../../trade/record/kinds.ts'
import type { Sheet } from '../../trade/sheets/types.ts'
import { say } from '../frame/say.ts'
import { useSaving } from '../frame/useSaving.ts'
import { capital } from '../frame/words.ts'
import type { Cell, Typed } from './grid.ts'
import { gaugeInHand, withOf } from './useWith.ts'

export function useGridSaving(job: Job, code: string, sheet: Sheet | null, remark: string) {
  const { message, busy, attempt, forget } = useSaving()
  /** False where it was not saved. `spoken`: in which recording it was spoken, and what was heard there. */
  const saveReading = async (cell: Cell, { value, unit }: Typed, spoken: Spoken): Promise<boolean> => {
    const reading = sheet?.readings_asked.find((r) => r.code === cell.reading)
    if (!sheet || !reading) return false
    const { name, id } = gaugeInHand(code, reading.quantity)
    const body = {
      procedure: code,
      edition: sheet.edition,
      reading: cell.reading,
      quantity: reading.quantity,
      value,
      unit,
      gauge: name,
      gauge_id: id,
      remark: remark.trim(),
      ...withOf(job),
    }
    const place = sheet.places.find((p) => p.place === cell.place)?.name ?? ''
    const words = say('grid.saved', { place: capital(place), reading: reading.words, value: `${value} ${unit}`.trim() })
    return (await attempt(() => measure({ job: job.id, place: cell.place, point: reading.words }, body, spoken), words)) !== null
  }
  return { message, busy, forget, saveReading }
}
