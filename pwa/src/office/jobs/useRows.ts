import { useEffect, useRef, useState } from 'preact/hooks'
import { useKeys } from '../frame/keys.ts'

/** Steps through the lines of a register by keys; the chosen line is brought into view. */
export function useRows(count: number, open: (index: number) => void, more: Record<string, () => void> = {}) {
  const [at, setAt] = useState(-1)
  const list = useRef<HTMLElement | null>(null)
  const move = (by: number) => setAt((was) => Math.max(0, Math.min(count - 1, was + by)))
  useKeys({
    ArrowDown: () => move(1),
    j: () => move(1),
    ArrowUp: () => move(-1),
    k: () => move(-1),
    Enter: () => at >= 0 && at < count && open(at),
    ...more,
  })
  useEffect(() => {
    list.current?.querySelector('[data-at="true"]')?.scrollIntoView({ block: 'nearest' })
  }, [at])
  return { at, list }
}
