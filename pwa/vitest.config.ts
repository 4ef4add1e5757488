import { defineConfig } from 'vitest/config'

const tests = 'src/**/*.test.{ts,tsx}'
// What store and speech hold lives in their modules: each of these tests imports them for itself. All others share what they
// import, which takes most of the time.
const keeping = ['src/store/**/*.test.ts', 'src/sync/**/*.test.ts', 'src/speech/**/*.test.ts']

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'store, sync and speech', include: keeping } },
      { extends: true, test: { name: 'all others', include: [tests], exclude: keeping, isolate: false } },
    ],
  },
})
