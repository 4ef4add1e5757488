// The shape of a proposal: all of it text, ready to be shown. Made by trade/proposals.

export interface ProposalInput {
  name: string
  value: string
  /** The workshop's own words for a size, an exhibit for a reading. */
  source: string
}

export interface Proposal {
  sort: 'machining' | 'shim' | 'preload' | 'ratio' | 'fit'
  title: string
  lines: string[]
  inputs: ProposalInput[]
  formula: string
  cautions: string[]
  /** The one reading that forces it; null where all count alike. */
  forced_by: { place: string; reading: string; value: string } | null
}
