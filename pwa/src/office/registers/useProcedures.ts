import type { Procedure } from '../../trade/measuring/procedures.ts'
import { useGet } from '../frame/useGet.ts'
import type { Procedures } from './measuring/shapes.ts'

/** All procedures of the workshop; none until the server has answered. */
export function useProcedures(): Procedure[] {
  const { data } = useGet<Procedures>('/api/procedures')
  return (data?.procedures ?? []).map(({ procedure }) => procedure)
}
