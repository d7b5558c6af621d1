import QRCode from 'qrcode';

/** A QR code (ISO/IEC 18004) as a path of dark modules, one unit each, with the quiet zone of four that the standard asks for. */
export interface QrDrawing {
  readonly size: number;
  readonly path: string;
}

const quietZone = 4;

export const qrDrawing = (text: string): QrDrawing => {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' });
  const rows = Array.from({ length: modules.size }, (_, row) => row);
  const path = rows.flatMap((row) => rows.flatMap((column) => (modules.get(row, column) ? [`M${column + quietZone} ${row + quietZone}h1v1h-1z`] : []))).join('');
  return { size: modules.size + 2 * quietZone, path };
};
