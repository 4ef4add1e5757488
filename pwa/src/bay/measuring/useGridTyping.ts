// What is typed or spoken into the lit cell of a measurement sheet, until it is saved.
import { useState } from 'preact/hooks'
import type { Job } from '../../store/index.ts'
import { type Spoken, TYPED } from '../../trade/record/kinds.ts'
import { odd } from '../../trade/sheets/odd_reading.ts'
import type { Sheet } from '../../trade/sheets/types.ts'
import type { Drafted } from '../frame/useDraft.ts'
import { sentence } from '../frame/words.ts'
import { type Cell, same, typed } from './grid.ts'
import { useGridSaving } from './useGridSaving.ts'

/** `place` and `reading` only where somebody chose them; `question` holds the question once it was put. */
export const NOTHING_TYPED = { value: '', place: '', reading: '', again: false, question: '', remark: '' }

export type GridDraft = Drafted<typeof NOTHING_TYPED>

export interface GridTypingProps {
  job: Job
  /** Code of the procedure. */
  code: string
  sheet: Sheet | null
  target: Cell | null
  quantity: string
  unit: string
  draft: GridDraft
  goOnFrom: (cell: Cell) => void
}

export function useGridTyping({ job, code, sheet, target, quantity, unit, draft, goOnFrom }: GridTypingProps) {
  const v = draft.value
  const { message, busy, forget, saveReading } = useGridSaving(job, code, sheet, v.remark)
  const [wrong, setWrong] = useState('')
  const clear = () => {
    setWrong('')
    forget()
  }

  /** Saves what is typed; says in place what cannot be read, and asks once about a value far from its neighbours. */
  const save = async () => {
    if (!sheet || !target) return
    let read
    try {
      read = typed(quantity, v.value, unit)
    } catch (fault) {
      navigator.vibrate?.([80, 60, 80])
      return setWrong(sentence(fault))
    }
    const question = v.question ? '' : odd(sheet, target.place, target.reading, read.value, read.unit)
    if (question) {
      navigator.vibrate?.([40, 40, 40])
      return draft.change({ question, place: target.place, reading: target.reading })
    }
    // A unit typed with one value is of that value alone: the next is in the unit that was chosen.
    if (!(await saveReading(target, read, TYPED))) return
    goOnFrom(target)
    await draft.done()
  }

  /** Saves a figure that was spoken and accepted. What is half typed elsewhere stays. */
  const saveSpoken = async (cell: Cell, value: string, unit: string, spoken: Spoken): Promise<boolean> => {
    if (!(await saveReading(cell, { value, unit }, spoken))) return false
    goOnFrom(cell)
    if (v.value === '' || same(cell, target)) await draft.done()
    return true
  }

  return {
    message, busy, wrong, save, saveSpoken,
    pick: (cell: Cell | { place: string; reading: '' }, again = false) => {
      clear()
      draft.change({ place: cell.place, reading: cell.reading, again, question: '' })
    },
    type: (value: string) => {
      clear()
      // Digits belong to the cell that was lit when they were typed, whatever arrives meanwhile.
      draft.change({ value, place: target?.place ?? '', reading: target?.reading ?? '' })
    },
    write: (remark: string) => draft.change({ remark }),
    drop: () => draft.change({ value: '', question: v.question }),
  }
}
