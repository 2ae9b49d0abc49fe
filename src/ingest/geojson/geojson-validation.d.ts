/** Types of the part of geojson-validation that is used here; the package brings none. */
declare module "geojson-validation" {
  const validation: {
    /** Messages about the structure of a feature, empty where it is valid. */
    isFeature(feature: unknown, trace: true): string[];
  };
  export default validation;
}
