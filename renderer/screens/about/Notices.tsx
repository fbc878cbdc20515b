import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import all from "virtual:notices"

/** Every package that ships, with its licence to unfold. */
export default function Notices() {
  return (
    <ul className="plainlist">
      {all.map(({ name, version, licence, text }) => (
        <li key={`${name} ${version}`}>
          <Disclosure className="fold">
            <Heading level={4}>
              <Button slot="trigger">
                {name} {version}, {licence}
              </Button>
            </Heading>
            <DisclosurePanel>
              <pre className="licence-text" tabIndex={0}>
                {text === "" ? `Its package holds no licence file; it is under ${licence}.` : text}
              </pre>
            </DisclosurePanel>
          </Disclosure>
        </li>
      ))}
    </ul>
  )
}
