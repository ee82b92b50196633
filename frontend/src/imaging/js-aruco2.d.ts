declare module 'js-aruco2' {
  interface Corner {
    x: number;
    y: number;
  }
  interface Marker {
    id: number;
    corners: [Corner, Corner, Corner, Corner];
    hammingDistance: number;
  }
  interface Pixels {
    width: number;
    height: number;
    /** Four bytes a pixel: red, green, blue, alpha. */
    data: ArrayLike<number>;
  }
  interface Library {
    AR: {
      DICTIONARIES: Record<string, { nBits: number; tau: number; codeList: number[] }>;
      Detector: new (config: { dictionaryName: string }) => { detect(image: Pixels): Marker[] };
    };
  }
  const library: Library;
  export default library;
}
