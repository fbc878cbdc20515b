// Must be imported before anything that builds a schema: zod otherwise tries `new Function`, which the page's policy reports.
import { z } from "zod"

z.config({ jitless: true })
