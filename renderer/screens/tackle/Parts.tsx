import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { Tackle } from "../../../shared/tackle.ts"
import { useSave } from "../../client/useSave.ts"
import { KeptField } from "../../parts/KeptField.tsx"
import { Table } from "../../parts/Table.tsx"

/** Lure classes, rigs and retrieves: what presentations are made of, each by what it is used for. */
export function Parts({ tackle: { classes, rigs, retrieves } }: { readonly tackle: Tackle }) {
  const save = useSave("tackle.save")
  return (
    <section className="tackle-parts">
      <h2>What they are made of</h2>
      <Disclosure className="fold">
        <Heading level={3}>
          <Button slot="trigger">Lure classes ({classes.length})</Button>
        </Heading>
        <DisclosurePanel>
          <ul className="plainlist">
            {classes.map(({ id, name, presentations }) => (
              <li key={id} className="row">
                <KeptField
                  label={`Name of the class ${name}`}
                  hidden
                  value={name}
                  onKeep={(typed) =>
                    typed.trim() === ""
                      ? Promise.resolve("A lure class wants a name.")
                      : save({ what: "lure_class", id, name: typed.trim() })
                  }
                />
                <span className="soft small">{presentations} in the box</span>
              </li>
            ))}
          </ul>
          <p className="soft small">A new class is made by naming it in a line: class glide bait.</p>
        </DisclosurePanel>
      </Disclosure>
      <Disclosure className="fold">
        <Heading level={3}>
          <Button slot="trigger">Rigs ({rigs.length})</Button>
        </Heading>
        <DisclosurePanel>
          <Table
            caption="Rigs"
            head={["Rig", "presentations"]}
            rows={rigs.map(({ name, words, presentations }) => [
              name === null ? words : `${name}: ${words}`,
              String(presentations),
            ])}
          />
        </DisclosurePanel>
      </Disclosure>
      <Disclosure className="fold">
        <Heading level={3}>
          <Button slot="trigger">Retrieves ({retrieves.length})</Button>
        </Heading>
        <DisclosurePanel>
          <Table
            caption="Retrieves"
            head={["Retrieve", "presentations"]}
            rows={retrieves.map(({ words, presentations }) => [words, String(presentations)])}
          />
        </DisclosurePanel>
      </Disclosure>
    </section>
  )
}
