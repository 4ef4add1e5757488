import type { Trouble } from './api.ts'
import { useGet } from './useGet.ts'

/** `useGet` under the names that the job's and the spoken rooms still use. */
export function useAsk<T>(path: string | null): { told: T | null; trouble: Trouble | null; again: () => void } {
  const { data, error, reload } = useGet<T>(path)
  return { told: data, trouble: error, again: reload }
}
