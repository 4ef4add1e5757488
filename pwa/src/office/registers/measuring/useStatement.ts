import { useState } from 'preact/hooks'
import type { Fault } from '../../../trade/ground/errors.ts'
import { post, ApiError } from '../../frame/api.ts'
import { type Sort, useFaults } from '../../frame/useFaults.ts'
import { count, faultsAt } from '../../frame/words.ts'

/** What is handed to the check, and the faults that are known without it. */
export type Apart<T> = (typed: T) => [value: T, known: Fault[]]

/** A form for one statement of the workshop: what is typed, its faults, the server's refusal at the field it names. */
export function useStatement<T extends object>(sort: Sort, start: T, apart: Apart<T> = (typed) => [typed, []]) {
  const [typed, setTyped] = useState(start)
  const [tried, setTried] = useState(false)
  const [refused, setRefused] = useState<{ where: string; message: string } | null>(null)
  const [value, known] = apart(typed)
  const { faults: found, checked, trouble, now } = useFaults(sort, value)
  const faults = [...known, ...found]
  const put = (news: Partial<T>) => {
    setRefused(null)
    setTyped((was) => ({ ...was, ...news }))
  }
  /** What is wrong with a field; a field nobody touched yet says nothing before the first try. */
  const wrong = (field: keyof T & string): string => {
    const said = tried || typed[field] !== start[field] ? faultsAt(faults, field) : ''
    return said || (refused?.where.split('.').includes(field) ? refused.message : '')
  }
  /** Sends it; answers what the server answered, or null when it may not be sent or was refused. */
  const send = async <Answer,>(path: string, body: unknown): Promise<Answer | null> => {
    setTried(true)
    if (known.length || (await now()).length) return null
    try {
      return await post<Answer>(path, body)
    } catch (reason) {
      if (reason instanceof ApiError) setRefused({ where: reason.where, message: reason.message })
      else setRefused({ where: '', message: String(reason) })
      return null
    }
  }
  const loose = refused && !refused.where.split('.').some((part) => part in typed) ? refused.message : ''
  /** What belongs to no single field. */
  const said = loose || (tried && faults.length ? `${count(faults.length, 'thing')} to put right, said beside the fields.` : trouble)
  /** Whether what stands there now can be worked with, what is known without the check left aside. */
  const sound = checked && !found.length
  return { typed, put, wrong, send, said, sound }
}
