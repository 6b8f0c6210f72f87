namespace ShopFloor.Domain.Heat;

/// <summary>One layer between the platens.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Material">Its properties.</param>
/// <param name="ThicknessMm">Thickness in mm, above 0.</param>
public sealed record StackLayer(string Name, ThermalProperties Material, double ThicknessMm);

/// <summary>What a face of the stack touches.</summary>
/// <param name="Celsius">Temperature beyond the face in °C.</param>
/// <param name="CoefficientWM2K">How well heat crosses, in W/(m²·K): contact under pressure, or air; 0 is insulated.</param>
/// <param name="FluxWM2">Heat pushed in through the face in W/m², on top.</param>
internal readonly record struct StackEnd(double Celsius, double CoefficientWM2K, double FluxWM2 = 0);

/// <summary>
/// Heat through layers, one-dimensional and numeric: each layer is cut into cells whose heat balances close exactly, and each time step
/// solves them all at once (implicit Euler, a whole step and two halves combined to second order), so that no step is too long.
/// </summary>
internal sealed class PressStack
{
    private readonly int cellsPerLayer;
    private readonly double[] heatPerCell;
    private readonly double[] halfResistances;
    private readonly (double Link, StackEnd End) top;
    private readonly (double Link, StackEnd End) bottom;

    /// <summary>Prepares the cells; layers from the top down.</summary>
    public PressStack(IReadOnlyList<StackLayer> layers, StackEnd top, StackEnd bottom, int cellsPerLayer = 16)
    {
        this.cellsPerLayer = cellsPerLayer;
        StackLayer[] cells = [.. layers.SelectMany(layer => Enumerable.Repeat(layer, cellsPerLayer))];
        heatPerCell = [.. cells.Select(c => c.Material.VolumetricHeatJM3K * CellMetres(c))];
        halfResistances = [.. cells.Select(c => CellMetres(c) / 2 / c.Material.ConductivityWMK)];
        this.top = (EndLink(top, halfResistances[0]), top);
        this.bottom = (EndLink(bottom, halfResistances[^1]), bottom);
    }

    /// <summary>All cells at one temperature.</summary>
    public double[] AllAt(double celsius) => [.. heatPerCell.Select(_ => celsius)];

    /// <summary>Temperatures of the cells after one step.</summary>
    public double[] Step(double[] celsius, double seconds)
    {
        var whole = ImplicitStep(celsius, seconds);
        var halves = ImplicitStep(ImplicitStep(celsius, seconds / 2), seconds / 2);
        return [.. halves.Zip(whole, (half, one) => (2 * half) - one)];
    }

    /// <summary>Temperature in °C where a layer meets the next one down: it divides the difference as the resistances do.</summary>
    /// <param name="celsius">Cell temperatures.</param>
    /// <param name="layer">Index of the upper layer.</param>
    public double Below(double[] celsius, int layer)
    {
        var upper = ((layer + 1) * cellsPerLayer) - 1;
        var (ru, rl) = (halfResistances[upper], halfResistances[upper + 1]);
        return ((celsius[upper] * rl) + (celsius[upper + 1] * ru)) / (ru + rl);
    }

    /// <summary>Heat stored above 0 °C, in J/m².</summary>
    public double HeatJM2(double[] celsius) => celsius.Zip(heatPerCell, (t, heat) => t * heat).Sum();

    private double CellMetres(StackLayer layer) => layer.ThicknessMm / 1000 / cellsPerLayer;

    private static double EndLink(StackEnd end, double halfResistance) =>
        end.CoefficientWM2K > 0 ? 1 / ((1 / end.CoefficientWM2K) + halfResistance) : 0;

    // Thomas's elimination of the tridiagonal heat balances: stored = from above + from below.
    private double[] ImplicitStep(double[] old, double seconds)
    {
        var n = old.Length;
        var (upper, right) = (new double[n], new double[n]);
        for (var i = 0; i < n; i++)
        {
            var above = i == 0 ? top.Link : Link(i - 1);
            var below = i == n - 1 ? bottom.Link : Link(i);
            var stored = heatPerCell[i] / seconds;
            var diagonal = stored + above + below;
            var known = stored * old[i];
            if (i == 0)
            {
                known += (top.Link * top.End.Celsius) + top.End.FluxWM2;
            }
            else
            {
                diagonal -= above * upper[i - 1];
                known += above * right[i - 1];
            }

            if (i == n - 1)
            {
                known += (bottom.Link * bottom.End.Celsius) + bottom.End.FluxWM2;
            }

            upper[i] = i == n - 1 ? 0 : below / diagonal;
            right[i] = known / diagonal;
        }

        for (var i = n - 2; i >= 0; i--)
        {
            right[i] += upper[i] * right[i + 1];
        }

        return right;
    }

    private double Link(int upperCell) => 1 / (halfResistances[upperCell] + halfResistances[upperCell + 1]);
}
