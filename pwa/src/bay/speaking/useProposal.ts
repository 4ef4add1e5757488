import { useState } from 'preact/hooks'
import type { Spoken } from '../../trade/record/kinds.ts'
import type { Proposal } from '../../trade/spoken/types.ts'

/** What was understood, with the parts that were put right by hand; nothing of it is a record. */
export function useProposal() {
  const [proposal, setProposal] = useState<Proposal | null>(null)
  const [heard, setHeard] = useState<Spoken | null>(null)
  const [hand, setHand] = useState<ReadonlySet<string>>(new Set())
  return {
    proposal,
    heard,
    hand,
    propose: (next: Proposal, words: Spoken) => {
      setHeard(words)
      setProposal(next)
    },
    clear: () => {
      setProposal(null)
      setHeard(null)
      setHand(new Set())
    },
    /** A part that a person put right: it counts from now on, and is shown as done by hand. */
    change: (part: string, change: (before: Proposal) => Proposal) => {
      setProposal((before) => before && change(before))
      setHand((before) => new Set([...before, part]))
    },
  }
}
