/** The figures that are worked out from each other: the maximum and its correction; as in `kb.book.model.catalogue`. */

export const MAXIMUM = "max-advance";
export const CORRECTION = "cranking-correction";
