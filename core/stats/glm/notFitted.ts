/** Why there are no estimates: "flat", the likelihood does not tell some coefficients apart; "did not converge". */
export type NotFitted = { readonly kind: "not fitted"; readonly why: "flat" | "did not converge" }

/** No finite coefficients are best: likelihood rises for ever along `direction`, 0 for coefficients that stay finite. */
export type Separated = { readonly kind: "separated"; readonly direction: Float64Array }
