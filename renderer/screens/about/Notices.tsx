import all from "virtual:notices"
import { Fold } from "../../parts/Fold.tsx"

/** Every package that ships, with its licence to unfold. */
export default function Notices() {
  return (
    <ul className="plainlist">
      {all.map(({ name, version, licence, text }) => (
        <li key={`${name} ${version}`}>
          <Fold title={`${name} ${version}, ${licence}`} level={4}>
            <pre className="licence-text" tabIndex={0}>
              {text === "" ? `Its package holds no licence file; it is under ${licence}.` : text}
            </pre>
          </Fold>
        </li>
      ))}
    </ul>
  )
}
