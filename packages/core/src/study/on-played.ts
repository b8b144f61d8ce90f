/** Told how far some work has got: how many years or plants are played, and of how many where that is known. */
export type OnPlayed = (played: number, of?: number) => void;
