import { useState } from 'preact/hooks'
import type { Fault } from '../../../trade/ground/errors.ts'
import { post, ApiError } from '../../frame/api.ts'
import { faultsAt } from '../engine_types/form.ts'
import { count } from '../../frame/words.ts'

/** A form for one statement of the workshop: what is typed, its faults, the server's refusal at the field it names. */
export function useStatement<T extends object>(start: T, check: (typed: T) => Fault[]) {
  const [typed, setTyped] = useState(start)
  const [tried, setTried] = useState(false)
  const [refused, setRefused] = useState<{ where: string; message: string } | null>(null)
  const faults = check(typed)
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
    if (faults.length) return null
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
  const said = loose || (tried && faults.length ? `${count(faults.length, 'thing')} to put right, said beside the fields.` : '')
  return { typed, put, wrong, send, said }
}
