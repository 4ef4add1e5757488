export function App() {
  return <main>The bay</main>
}
