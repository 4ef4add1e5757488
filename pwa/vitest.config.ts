import { defineConfig } from 'vitest/config'

const tests = 'src/**/*.test.{ts,tsx}'
// The pure rooms keep nothing between calls: their tests share what they import, which takes most of the time.
const pure = 'src/trade/**/*.test.ts'

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'pure rooms', include: [pure], isolate: false } },
      { extends: true, test: { name: 'rooms with a state', include: [tests], exclude: [pure] } },
    ],
  },
})
