import { KINDS } from '../../trade/record/kinds.ts'
import * as icons from './icons.tsx'

const SIGNS = icons as Record<string, typeof icons.Sheaf>

/** The sign of a kind of record, as it stands in its balloon. */
export function KindSign({ kind, size = 22 }: { kind: string; size?: number }) {
  // A record of a kind that a newer program wrote is a paper like any other.
  const Sign = SIGNS[KINDS[kind]?.sign ?? ''] ?? icons.Sheaf
  return <Sign size={size} />
}
