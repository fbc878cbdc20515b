/** Conductivity of sea water of salinity 35 at 15 °C and no pressure, mS/cm. Source: Culkin and Smith (1980), from memory. */
export const standardConductivity = 42.914

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0)

/**
 * Practical salinity (PSS-78, no unit) from the ratio of conductivity to `standardConductivity`, the water's temperature in
 * degrees Celsius and its pressure in decibars, 0 at the surface. Null beyond the scale, which is defined from 2 to 42 and
 * from -2 to 35 degrees. Its temperatures are of 1968; those of 1990 make less than 0.01. Source: UNESCO Technical Papers in
 * Marine Science 44 (1983), Fofonoff and Millard, coefficients from memory.
 */
export function practicalSalinity(ratio: number, celsius: number, decibars: number): number | null {
  const atStandard = polynomial([0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9], celsius)
  const byPressure =
    1 +
    (decibars * polynomial([2.07e-5, -6.37e-10, 3.989e-15], decibars)) /
      (polynomial([1, 3.426e-2, 4.464e-4], celsius) + polynomial([0.4215, -3.107e-3], celsius) * ratio)
  const root = Math.sqrt(ratio / (byPressure * atStandard))
  const warmer = celsius - 15
  const salinity =
    polynomial([0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081], root) +
    (warmer / (1 + 0.0162 * warmer)) * polynomial([0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144], root)
  return salinity >= 2 && salinity <= 42 && celsius >= -2 && celsius <= 35 ? salinity : null
}
