/** What may differ between a record and what was heard, in words. */
export const PARTS: Record<string, string> = {
  place: 'the place',
  point: 'the point',
  quantity: 'what was measured',
  value: 'the value',
  value_to: 'the end of the range',
  unit: 'the unit',
  conditions: 'the condition',
  condition: 'the condition',
  disposition: 'what is to be done',
}
