import { useState } from 'preact/hooks'
import { tell, Trouble } from '../../frame/api.ts'
import { say } from '../../frame/say.ts'
import { faultsAt } from './faults.ts'
import { type Statements, useFaults } from './useFaults.ts'

/** The state of a form for one statement: what is typed, its faults, the server's refusal at the field it names. */
export function useStatement<Sort extends keyof Statements, T extends Statements[Sort] = Statements[Sort]>(sort: Sort, start: T) {
  const [typed, setTyped] = useState(start)
  const [tried, setTried] = useState(false)
  const [refusal, setRefusal] = useState<{ where: string; message: string } | null>(null)
  const faults = useFaults(sort, typed)
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
    if (faults.length) return null
    try {
      return await tell<Answer>(path, body)
    } catch (reason) {
      if (reason instanceof Trouble) setRefusal({ where: reason.where, message: reason.message })
      else setRefusal({ where: '', message: String(reason) })
      return null
    }
  }
  const ofNoField = refusal && !refusal.where.split('.').some((part) => part in typed) ? refusal.message : ''
  /** What belongs to no single field. */
  const summary = ofNoField || (tried && faults.length ? say('registers.faults_beside_fields', { count: faults.length }) : '')
  return { typed, faults, put, wrong, send, summary }
}
