/** Begins the title of a picture that was placed for something, in a file: by it such a picture is known when the file is opened again. */
export const PLACED = "Leapsheet ";
