import { useEffect, useState } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { jointsOf } from '../../../trade/tightening/sheets.ts'
import { ApiError, post } from '../../frame/api.ts'

export interface Proposal {
  /** Empty until the server has answered. */
  order: string[]
  loosening: string[]
  words: string
  /** Why there is none; "" when there is one. */
  error: string
}

const NONE: Proposal = { order: [], loosening: [], words: '', error: '' }

/** The order that the positions of a joint's fasteners suggest, as the server works it out. */
export function useProposal(type: EngineType, joint: string): Proposal {
  const [proposal, setProposal] = useState(NONE)
  const withFasteners = jointsOf(joint, type)[0]?.fasteners.length ? joint : ''
  useEffect(() => {
    let gone = false
    setProposal(NONE)
    if (!withFasteners) return
    post<Omit<Proposal, 'error'>>(`/api/engine-types/${type.id}/tightening/proposal`, { joint: withFasteners }).then(
      (answer) => gone || setProposal({ ...answer, error: '' }),
      (reason) => gone || setProposal({ ...NONE, error: reason instanceof ApiError ? reason.message : String(reason) }),
    )
    return () => void (gone = true)
  }, [type.id, withFasteners])
  return proposal
}
