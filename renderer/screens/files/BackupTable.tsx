import { Button } from "react-aria-components"
import type { Backup } from "../../../shared/desk.ts"
import { moment } from "../../parts/moment.ts"

/** Backups, newest first, each of which can be put in the place of its logbook. */
export function BackupTable({
  backups,
  busy,
  onRestore,
}: {
  readonly backups: readonly Backup[]
  readonly busy: boolean
  readonly onRestore: (name: string) => void
}) {
  return (
    <div className="wide" role="region" aria-label="Backups" tabIndex={0}>
      <table className="text">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col" className="words">
              why
            </th>
            <th scope="col">size</th>
            <td />
          </tr>
        </thead>
        <tbody>
          {backups.map(({ name, at, bytes, why }) => (
            <tr key={name}>
              <td>{moment(at)}</td>
              <td className="words">{why}</td>
              <td>{(bytes / 2 ** 20).toFixed(1)} MB</td>
              <td className="act">
                <Button isDisabled={busy} onPress={() => onRestore(name)}>
                  Restore<span className="hidden"> the one of {moment(at)}</span>
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
