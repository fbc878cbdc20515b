import type { Problem } from "../../../shared/problems.ts"
import { useAct } from "../../client/useAct.ts"

/** What can be done with logbook files. */
export const useDesk = () => ({
  sample: useAct("desk.sample"),
  open: useAct("desk.open"),
  make: useAct("desk.new"),
})

/** Whether a logbook could not be opened because the file itself is spoilt: a backup may help. */
export const spoilt = ({ code }: Problem): boolean => code === "damaged_logbook" || code === "not_a_logbook"
