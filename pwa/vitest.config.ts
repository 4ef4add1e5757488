import { defineConfig } from 'vitest/config'

const tests = 'src/**/*.test.{ts,tsx}'
// What the store holds lives in its modules: each of these tests imports them for itself. All others share what they
// import, which takes most of the time.
const keeping = ['src/store/**/*.test.ts', 'src/sync/**/*.test.ts']

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'store and sync', include: keeping } },
      { extends: true, test: { name: 'all others', include: [tests], exclude: keeping, isolate: false } },
    ],
  },
})
