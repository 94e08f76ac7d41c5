/** A file as base64, as the boundary takes it. */
export const base64Of = async (file: Blob): Promise<string> => {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
};

/** A picture from base64, under an address that lives as long as the page or until it is given back. */
export const jpegUrl = (base64: string): string => {
  const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
  return URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
};
