import { useState } from 'preact/hooks'
import { ApiError } from '../../frame/api.ts'
import { filters, added, job } from '../record/state.ts'
import type { Location, NewEntry } from '../../frame/shapes.ts'
import { writeAtDesk } from '../../frame/write.ts'

/** Signs a record at the desk. `send` returns true when it is in the log; otherwise `fault` says why not. */
export function useDesk() {
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const send = async (entry: Omit<NewEntry, 'job'>): Promise<boolean> => {
    setSending(true)
    setFault('')
    try {
      const made = await writeAtDesk({ ...entry, job: job.value?.id ?? null })
      await added(made)
      return true
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
      return false
    } finally {
      setSending(false)
    }
  }
  return { fault, setFault, sending, send }
}

/** The place the record is filtered by: a new record most likely belongs there. */
export function placeAtHand(): Location {
  return { place: filters.value.place ?? '', point: '' }
}

export function located(where: Location): Location | null {
  return where.place ? { place: where.place, point: where.point.trim() } : null
}
