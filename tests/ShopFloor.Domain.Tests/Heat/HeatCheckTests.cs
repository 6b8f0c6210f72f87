using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Tests.Heat;

/// <summary>Worked examples of heat transfer textbooks; the source stands in each row.</summary>
public sealed class HeatCheckTests
{
    public static TheoryData<string> HeatUpRows => CheckValues.Ids("heatup");

    public static TheoryData<string> ConductionRows => CheckValues.Ids("conduction");

    public static TheoryData<string> CureRows => CheckValues.Ids("cure");

    [Theory]
    [MemberData(nameof(HeatUpRows))]
    public void HeatingAndCooling_PublishedExample_Agrees(string id)
    {
        var row = CheckValues.Row("heatup", id);
        row.Check(Compute(row));
    }

    [Theory]
    [MemberData(nameof(ConductionRows))]
    public void Conduction_PublishedExample_Agrees(string id)
    {
        var row = CheckValues.Row("conduction", id);
        row.Check(Conduction(row));
    }

    [Theory]
    [MemberData(nameof(CureRows))]
    public void EquivalentBake_PublishedOrDerived_Agrees(string id)
    {
        var row = CheckValues.Row("cure", id);
        row.Check(
            row.Quantity switch
            {
                "equivalent" => EquivalentBake.Minutes(row["minutes"], row["at"], row["T"], row["ea"]).Value.Value,
                _ => EquivalentBake.ActivationKilojoulesPerMol(row["m1"], row["T1"], row["m2"], row["T2"]),
            }
        );
    }

    private static double Compute(CheckRow row) =>
        row.Quantity switch
        {
            "steady" => Around(row).SteadyCelsius(),
            "lumped_time" => LumpedModel.SecondsTo(Body(row), Around(row), row["T0"], row["T"]),
            "lumped_time_plus_300" => LumpedModel.SecondsTo(Body(row), Around(row), row["T0"], row["T"]) + 300,
            "lumped_after" => LumpedModel.CelsiusAfter(Body(row), Around(row), row["T0"], row["t"]),
            "cycle" => Cycle(row),
            "lamp_steady" => LampSteady(row),
            "lamp_h" => LampCoefficient(row),
            "free_plate" => FreeConvection.UprightPlateWM2K(row["L"], row["T0"], row["Tair"]) * 1.02 * 0.71 * (row["T0"] - row["Tair"]),
            "free_cylinder" => LyingCylinderWatts(row),
            "surface_after" => Series(row).At(row["t"], 1),
            "series_after" => Series(row).At(row["t"], 0),
            "series_half" => Series(row).At(row["t"], 0.5),
            "series_flux" => row["h"] * (row["Tair"] - Series(row).At(row["t"], 1)),
            "series_time" or "series_time_all" => Series(row).SecondsTo(row["T"]),
            _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
        };

    // Heat to 150 °C, hold 300 s while it heats on, cool to 37 °C.
    private static double Cycle(CheckRow row)
    {
        var heating = Around(row);
        var first = LumpedModel.SecondsTo(Body(row), heating, 25, 150);
        var hot = LumpedModel.CelsiusAfter(Body(row), heating, 25, first + 300);
        return first + 300 + LumpedModel.SecondsTo(Body(row), new Surroundings(25, 25, 10, row["eps"]), hot, 37);
    }

    // A lamp of 2000 W/m² of which the plate absorbs 0.8: it rests where it gives as much away.
    private const double AbsorbedWM2 = 0.8 * 2000;

    private static double LampSteady(CheckRow row)
    {
        var around = new Surroundings(row["Tair"], row["Tsur"], row["h"], row["eps"]);
        return Roots.Bisect(t => around.FluxIntoWM2(t) + AbsorbedWM2, 0, 300);
    }

    private static double LampCoefficient(CheckRow row) =>
        Roots.Bisect(h => new Surroundings(row["Tair"], row["Tsur"], h, row["eps"]).FluxIntoWM2(row["T"]) + AbsorbedWM2, 1, 500);

    private static double LyingCylinderWatts(CheckRow row)
    {
        var h = FreeConvection.LyingCylinderWM2K(row["L"], row["T0"], row["Tair"]);
        var around = new Surroundings(row["Tair"], row["Tsur"], h, row["eps"]);
        return -around.FluxIntoWM2(row["T0"]) * Math.PI * row["L"];
    }

    private static ThermalProperties Properties(CheckRow row) => new(row.Or("rho", 1000), row.Or("k", 1), row.Or("cp", 1000));

    private static HeatBody Body(CheckRow row) => new(Properties(row), HeatShape.Plate, row["L"]);

    private static Surroundings Around(CheckRow row) => new(row["Tair"], row.Or("Tsur", row["Tair"]), row["h"], row.Or("eps", 0));

    private static HeatShape Shape(CheckRow row) =>
        row.Word("shape") switch
        {
            "plate" => HeatShape.Plate,
            "cylinder" => HeatShape.Cylinder,
            _ => HeatShape.Sphere,
        };

    private static SeriesCase Series(CheckRow row)
    {
        var body = new HeatBody(Properties(row), Shape(row), row["L"]);
        var series = new TransientSeries(body.Shape, row["h"] * body.DepthMetres / body.Material.ConductivityWMK);
        return new SeriesCase(series, body, row["T0"], row["Tair"]);
    }

    private sealed record SeriesCase(TransientSeries Terms, HeatBody Body, double From, double Around)
    {
        private double SecondsPerFourier => Body.DepthMetres * Body.DepthMetres / Body.Material.DiffusivityM2S;

        public double At(double seconds, double place) => Around + ((From - Around) * Terms.Remaining(seconds / SecondsPerFourier, place));

        public double SecondsTo(double target) => Terms.FourierAtMiddle((target - Around) / (From - Around)) * SecondsPerFourier;
    }

    private static double Conduction(CheckRow row) =>
        row.Quantity switch
        {
            "first_root" => new TransientSeries(Shape(row), row["bi"], 1).FirstRoot,
            "first_factor" => new TransientSeries(Shape(row), row["bi"], 1).FirstFactor,
            "erf" => ErrorFunction.Erf(row["x"]),
            "slab_held" => SlabHeld(row),
            "si_const_T" => SemiInfinite.CelsiusFaceHeld(row["a"], row["T0"], row["face"], row["x"], row["t"]),
            "si_const_flux" => SemiInfinite.CelsiusFluxHeld(row["k"], row["a"], row["T0"], row["q"], row["x"], row["t"]),
            "si_depth" => SemiInfinite.DepthMm(Properties(row), row["T0"], row["face"], row["T"], row["t"]).Value.Value / 1000,
            "si_convection_share" => SemiInfinite.CelsiusConvection(Properties(row), 0, 1, row["h"], row["x"], row["t"]),
            "contact" => SemiInfinite.ContactCelsius(row["t1"], row["e1"], row["t2"], row["e2"]),
            _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
        };

    private static double SlabHeld(CheckRow row)
    {
        var layer = new StackLayer("slab", Properties(row), row["mm"]);
        var stack = new PressStack([layer], new StackEnd(row["face"], 1e9), new StackEnd(20, 0), cellsPerLayer: 120);
        var celsius = stack.AllAt(row["T0"]);
        const int Steps = 400;
        for (var i = 0; i < Steps; i++)
        {
            celsius = stack.Step(celsius, row["t"] / Steps);
        }

        return celsius[^1];
    }
}
