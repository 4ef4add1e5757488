// What a run reads of its entries.

/** An entry as a run reads it: its body as it stands after corrections. */
export interface RunEntry {
  id: string
  kind: string
  body: Record<string, unknown>
  author: string
  claimed: string
  withdrawn?: boolean
}

/** The body of fastener_tightened as a run reads it. */
export interface Tap {
  fastener: string
  value: string
  unit: string
  method: string
  tool: string
  state: string
  remark: string
  run: string
  stage: string
  given: 'tap' | 'typed'
  tool_id: string
  set_value: string
  basis: string[]
}
