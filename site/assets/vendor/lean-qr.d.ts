// What we use of lean-qr.js, for the type checker.
export interface Code { readonly size: number; get(x: number, y: number): boolean }
export type Mode = { readonly held: unique symbol };
export const mode: { bytes(held: Uint8Array): Mode };
export const correction: { readonly M: number };
export function generate(mode: Mode, options: { minCorrectionLevel: number; maxVersion: number }): Code;
