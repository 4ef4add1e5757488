import { useEffect, useState } from 'preact/hooks'
import type { FieldFault } from '../../trade/ground/errors.ts'
import { post } from '../frame/api.ts'
import type { SpokenItem } from './shapes.ts'

/**
 * Which texts of a sound come to the very same record as the one that stands, in other words: "eighty eight point nine
 * four" and "88.94". The server reads both; until it has answered none is.
 */
export function useSame({ id, spoken }: SpokenItem): ReadonlySet<string> {
  const [same, setSame] = useState<ReadonlySet<string>>(new Set())
  const others = [...new Set(spoken.results.map(({ text }) => text))].filter((text) => text && text !== spoken.text)
  const question = JSON.stringify({ sort: 'heard', value: { sound: id, text: spoken.text, others } })
  useEffect(() => {
    let gone = false
    setSame(new Set())
    if (!others.length || !spoken.text) return
    post<{ faults: FieldFault[] }>('/api/check', JSON.parse(question)).then(
      ({ faults }) => gone || setSame(new Set(others.filter((_, i) => !faults.some(({ where }) => where === `others.${i}`)))),
      // Without an answer the words are shown as they differ.
      () => undefined,
    )
    return () => void (gone = true)
  }, [question])
  return same
}
