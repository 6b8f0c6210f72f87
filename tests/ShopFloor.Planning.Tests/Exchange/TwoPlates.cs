using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Exchange;

/// <summary>A day of two aluminium plates, worked out by hand, with its plan.</summary>
internal static class TwoPlates
{
    public static byte[] DayBytes { get; } = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Fixtures", "two-plates.day.json"));

    public static byte[] PlanBytes { get; } = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Fixtures", "two-plates.plan.json"));

    public static ShopFloor.Planning.Exchange.Day Day => DayReader.Read(DayBytes, "day.json").Value;

    public static Plan Plan => PlanReader.Read(PlanBytes, "plan.json").Value;

    public static string Sha => Fingerprint.Sha256(DayBytes);
}
