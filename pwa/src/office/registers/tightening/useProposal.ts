import { useEffect, useState } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { jointsOf } from '../../../trade/tightening/sheets.ts'
import { ApiError, post } from '../../frame/api.ts'

export interface Proposed {
  /** Empty while the server has not answered. */
  order: string[]
  loosening: string[]
  words: string
  /** Why there is none; "" while it can be had. */
  trouble: string
}

const NONE: Proposed = { order: [], loosening: [], words: '', trouble: '' }

/** The order that the positions of a joint's fasteners suggest, as the server works it out. */
export function useProposal(type: EngineType, joint: string): Proposed {
  const [proposed, setProposed] = useState(NONE)
  const asked = jointsOf(joint, type)[0]?.fasteners.length ? joint : ''
  useEffect(() => {
    let gone = false
    setProposed(NONE)
    if (!asked) return
    const ask = post<Omit<Proposed, 'trouble'>>(`/api/engine-types/${type.id}/tightening/proposal`, { joint: asked })
    ask.then(
      (told) => gone || setProposed({ ...told, trouble: '' }),
      (reason) => gone || setProposed({ ...NONE, trouble: reason instanceof ApiError ? reason.message : String(reason) }),
    )
    return () => void (gone = true)
  }, [type.id, asked])
  return proposed
}
