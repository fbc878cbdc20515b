/** A caution to stand where predictions are printed. */
export type Caution = { readonly code: string; readonly text: string }

/** What a page of predictions holds, as far as cautions differ by it. */
export type Predicted = { readonly tide: boolean; readonly current: boolean; readonly interpolated: boolean }

/**
 * Cautions for a page with tides or currents. Sources: National Ocean Service (CO-OPS) disclaimers, in our own words; that
 * weather moves the water by decimetres: common practice, no source.
 */
export function watersCautions({ tide, current, interpolated }: Predicted): Caution[] {
  if (!tide && !current) return []
  return [
    {
      code: "predicted_not_observed",
      text: "Tides and currents here are predictions, not observations, and not for navigation. Wind, air pressure, river water and surge move real water, often by more than the prediction's own error.",
    },
    ...(interpolated
      ? [
          {
            code: "interpolated",
            text: "This is predicted at high and low water, or at slack and strength, only: what lies between them is interpolated.",
          },
        ]
      : []),
    ...(current
      ? []
      : [
          {
            code: "height_is_not_current",
            text: "No current station stands for this water. The rate of height is only a proxy for how the water moves: current and height turn at different times.",
          },
        ]),
  ]
}

/**
 * Where a coming day is read: forecast, lightning, cold water. Sources: US National Weather Service, lightning safety ("When
 * thunder roars, go indoors"; wait 30 minutes after the last thunder); the 1-10-1 rule of cold water (Giesbrecht); 15 and 21
 * degrees Celsius as cold-water safety pages of US agencies give them. That an open boat is no shelter, and the float plan:
 * common practice, no source.
 */
export const planCautions: readonly Caution[] = [
  {
    code: "forecast",
    text: "This program has no network: look at the marine forecast and radar before you go and while you are out, and tell someone where you go and when you will be back.",
  },
  {
    code: "lightning",
    text: "Thunder heard is near enough to strike: go in at once and stay in until 30 minutes after the last. An open boat is no shelter.",
  },
  {
    code: "cold_water",
    text: "Water below 21 °C (70 °F) is cold, below 15 °C (59 °F) very cold. Who falls in has about 1 minute to get the breath under control, 10 minutes of useful movement and 1 hour before passing out; without a life jacket people drown earlier. Wear it.",
  },
]
