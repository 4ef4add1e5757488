/** The list with one of its items changed. */
export function changedAt<T>(list: T[], index: number, changes: Partial<T>): T[] {
  return list.map((item, i) => (i === index ? { ...item, ...changes } : item))
}

/** The list without one of its items. */
export function withoutAt<T>(list: T[], index: number): T[] {
  return list.filter((_, i) => i !== index)
}
