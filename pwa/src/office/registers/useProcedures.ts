import type { Procedure } from '../../trade/measuring/procedures.ts'
import { useGet } from '../frame/useGet.ts'

/** A procedure as the server lists it. */
export interface ListedProcedure {
  procedure: Procedure
  built_in: boolean
  position: number | null
}

/** All procedures of the workshop; none until the server has answered. */
export function useProcedures(): Procedure[] {
  const { data } = useGet<{ procedures: ListedProcedure[] }>('/api/procedures')
  return (data?.procedures ?? []).map(({ procedure }) => procedure)
}
