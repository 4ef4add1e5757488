import { useState } from 'preact/hooks'
import { ApiError, post } from '../../frame/api.ts'
import { say } from '../../frame/say.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from './faults.ts'
import { type Statements, withName } from './statements.ts'

/** The state of a form for one statement: what is typed, its faults, the server's refusal at the field it names. */
export function useStatement<Sort extends keyof Statements, T extends Statements[Sort] = Statements[Sort]>(sort: Sort, start: T) {
  const [typed, setTyped] = useState(start)
  const [tried, setTried] = useState(false)
  const [refusal, setRefusal] = useState<{ where: string; message: string } | null>(null)
  const { value, known } = withName(typed)
  const { faults: fieldFaults, checked, error, checkNow } = useFaults(sort, value)
  const faults = [...known, ...fieldFaults]
  const put = (changes: Partial<T>) => {
    setRefusal(null)
    setTyped((before) => ({ ...before, ...changes }))
  }
  /** What is wrong with a field; an untouched field shows nothing before the first try. */
  const wrong = (field: keyof T & string): string => {
    const message = tried || typed[field] !== start[field] ? faultsAt(faults, field) : ''
    return message || (refusal?.where.split('.').includes(field) ? refusal.message : '')
  }
  /** Sends it; returns the server's answer, or null when it may not be sent or was refused. */
  const send = async <Answer,>(path: string, body: unknown): Promise<Answer | null> => {
    setTried(true)
    if (known.length || (await checkNow()).length) return null
    try {
      return await post<Answer>(path, body)
    } catch (reason) {
      if (reason instanceof ApiError) setRefusal({ where: reason.where, message: reason.message })
      else setRefusal({ where: '', message: String(reason) })
      return null
    }
  }
  const ofNoField = refusal && !refusal.where.split('.').some((part) => part in typed) ? refusal.message : ''
  /** What belongs to no single field. */
  const summary = ofNoField || (tried && faults.length ? say('registers.faults_beside_fields', { count: faults.length }) : error)
  /** Whether what is typed now can be worked with, an empty name aside. */
  const sound = checked && !fieldFaults.length
  return { typed, sound, put, wrong, send, summary }
}
