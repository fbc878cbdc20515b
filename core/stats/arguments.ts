/** Checks of arguments. Each throws a RangeError that names the function, the argument and the value. */

export function requirePositive(name: string, argument: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new RangeError(`${name} needs a finite ${argument} above 0; it was given ${value}.`)
  }
}

/** For parameters of distributions, whose sums, products and quotients must hold in a double. */
export function requireSize(name: string, argument: string, value: number): void {
  if (!(value >= 1e-100 && value <= 1e100)) {
    throw new RangeError(`${name} needs ${argument} above 0, from 1e-100 to 1e100; it was given ${value}.`)
  }
}

/** 0 and Infinity are allowed. */
export function requireNotNegative(name: string, argument: string, value: number): void {
  if (!(value >= 0)) throw new RangeError(`${name} needs ${argument} of 0 or more; it was given ${value}.`)
}

export function requireNumber(name: string, argument: string, value: number): void {
  if (Number.isNaN(value)) throw new RangeError(`${name} needs a number for ${argument}; it was given NaN.`)
}

export function requireFinite(name: string, argument: string, value: number): void {
  if (!Number.isFinite(value))
    throw new RangeError(`${name} needs a finite number for ${argument}; it was given ${value}.`)
}

/** 0 and 1 are allowed. */
export function requireShare(name: string, argument: string, value: number): void {
  if (!(value >= 0 && value <= 1)) {
    throw new RangeError(`${name} needs ${argument} from 0 to 1; it was given ${value}.`)
  }
}

export function requireProbability(name: string, p: number): void {
  if (!(p > 0 && p < 1))
    throw new RangeError(`${name} needs a probability between 0 and 1; it was given ${p}.`)
}

export function requireCount(name: string, argument: string, value: number): void {
  if (!(value >= 0 && Number.isSafeInteger(value))) {
    throw new RangeError(`${name} needs a whole ${argument} from 0 to 2^53; it was given ${value}.`)
  }
}
