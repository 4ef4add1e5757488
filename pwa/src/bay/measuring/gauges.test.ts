import { expect, test } from 'vitest'
import { known } from '../../trade/measuring/known.ts'
import { gaugesFor, overdueWords } from './gauges.ts'

const NOW = new Date(2026, 8, 20)

// Invented gauges.
const gauge = (id: string, name: string, more: object = {}) => ({
  id: `0197a3c0-0000-7000-8000-00000000000${id}`,
  kind: 'gauge_described',
  claimed: '2026-01-01T10:00:00+00:00',
  body: {
    gauge: {
      id, name, sort: 'bore_gauge', serial: '', unit: 'mm', low: '50', high: '160', resolution: '0.001', mpe: '0.003',
      repeatability: '', certificate: '', calibrated: '', due: '', retired: false, notes: '', ...more,
    },
  },
})

test('what reads and reaches comes first, overdue after it, then the rest with the reason; retired ones are not offered', () => {
  const register = known([
    gauge('1', 'small', { low: '10', high: '18' }),
    gauge('2', 'late', { due: '2026-09-02' }),
    gauge('3', 'good', { due: '2027-09-02' }),
    gauge('4', 'pressure', { sort: 'compression_gauge', unit: 'bar', low: '0', high: '25' }),
    gauge('5', 'old', { retired: true }),
  ])
  const offered = gaugesFor(register, 'diameter', '89.01', 'mm', NOW)
  expect(offered.map(({ name, overdue, not }) => [name, overdue, not])).toEqual([
    ['good', '', ''],
    ['late', 'calibration was due 2 Sep', ''],
    ['pressure', '', 'reads something else'],
    ['small', '', 'does not reach 89.01 mm'],
  ])
  expect(offered[0]!.facts).toBe('bore gauge, 50 to 160 mm, reads to 0.001, ±0.003')
  expect(gaugesFor(register, 'diameter', '3.504', 'in', NOW)[0]!.name).toBe('good')
  expect(overdueWords(register, '2', NOW)).toBe('calibration was due 2 Sep')
  expect(overdueWords(register, '3', NOW)).toBe('')
  expect(overdueWords(register, 'nobody', NOW)).toBe('')
})
