import { useEffect, useRef, useState } from 'preact/hooks'
import type { FieldFault } from '../../trade/ground/errors.ts'
import { post } from './api.ts'
import { type Answer, type Checking, checking } from './checking.ts'

export type Sort =
  | 'engine_type'
  | 'gauge'
  | 'limit'
  | 'size'
  | 'procedure'
  | 'measuring_rules'
  | 'tightening_sheet'
  | 'torque_tool'

export interface Checked {
  faults: FieldFault[]
  /** Whether they are the faults of what stands there now: only then may a value be worked with. */
  checked: boolean
  /** Why it cannot be checked, in a sentence; "" while it can. */
  error: string
  checkNow: () => Promise<FieldFault[]>
}

/** The faults of something that is being typed, as the server finds them. Saving checks again. */
export function useFaults(sort: Sort, value: object): Checked {
  const question = JSON.stringify({ sort, value })
  const [answer, setAnswer] = useState<Answer>({ question: '', faults: [], error: '' })
  const checks = useRef<Checking | null>(null)
  checks.current ??= checking(
    async (body) => (await post<{ faults: FieldFault[] }>('/api/check', JSON.parse(body))).faults,
    setAnswer,
  )
  useEffect(() => checks.current!.typed(question), [question])
  useEffect(() => checks.current!.stop, [])
  return { ...answer, checked: answer.question === question && !answer.error, checkNow: checks.current.now }
}
