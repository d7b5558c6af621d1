/** What a person expects of the air in the shed on a local day, °C. */
export interface AirDay {
    readonly lowC: number;
    readonly highC: number;
}
//# sourceMappingURL=air-day.d.ts.map