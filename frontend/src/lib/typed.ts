/** A length as typed, for the engine to read: a bare number is mm, anything else goes as it was written. */
export const typed = (text: string): number | string => (/^-?\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim())
