using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Colour;

/// <summary>
/// How a print looks on its ground. The light passes the ink twice, so the reflectance is ground · T², with T² the print's reflectance
/// relative to white; glass in front takes its part twice, and a matt surface adds a little white light of its own.
/// </summary>
/// <param name="Ground">Reflectance of what lies under the ink, per channel, 0 to 1.</param>
/// <param name="SurfaceReflectance">White light that the surface scatters back before it reaches the ink, 0 to 1.</param>
/// <param name="GlassTransmittance">Share that glass in front lets through one way, 0 to 1; 1 without glass.</param>
public sealed record PrintLook(LinearRgb Ground, double SurfaceReflectance = 0, double GlassTransmittance = 1)
{
    /// <summary>What a surface of refractive index 1.5 reflects straight on: ((1.5 − 1)/(1.5 + 1))² = 0.04 (Fresnel).</summary>
    public const double FresnelReflectance = 0.04;

    /// <summary>
    /// Share of the surface reflection that the first matt coat scatters; each further coat takes the same share of the rest: common
    /// practice, no source.
    /// </summary>
    public const double MattSharePerCoat = 0.5;

    /// <summary>One way through 4 mm of soda-lime glass, surfaces not counted: 0.98, from memory of published light transmittance 0.90.</summary>
    public const double WindowGlassTransmittance = 0.98;

    /// <summary>Absorption over scattering of a white coat: 0.002, common practice, no source.</summary>
    public const double WhiteAbsorption = 0.002;

    /// <summary>Scattering power of one coat of white base: 5 gives a contrast ratio of 0.93, two coats 0.98; common practice, no source.</summary>
    public const double WhitePowerPerCoat = 5;

    /// <summary>Scattering power of one coat of translucent white: 2, common practice, no source.</summary>
    public const double TranslucentPowerPerCoat = 2;

    /// <summary>True when nothing white lies between the material and the ink: where no ink is, the material itself is seen.</summary>
    public bool IsBare { get; init; }

    /// <summary>True where no ink at all goes: the colour is as light as the ground, or lighter, in each of its parts.</summary>
    /// <param name="wanted">The wanted colour.</param>
    public bool LeavesBare(LinearRgb wanted)
    {
        var lightest = Reflectance(LinearRgb.White);
        return wanted.R >= lightest.R && wanted.G >= lightest.G && wanted.B >= lightest.B;
    }

    /// <summary>Reflectance where the print has T² (relative to white), channel by channel.</summary>
    /// <param name="print">T² per channel, 0 to 1: the linear light of the picture.</param>
    public LinearRgb Reflectance(LinearRgb print) =>
        new(Channel(Ground.R, print.R), Channel(Ground.G, print.G), Channel(Ground.B, print.B));

    /// <summary>The nearest colour, channel by channel, that any amount of ink can reach on this ground.</summary>
    /// <param name="wanted">The wanted colour.</param>
    public LinearRgb Reachable(LinearRgb wanted) => NoDarker(NoLighter(wanted));

    /// <summary>The wanted colour, channel by channel no lighter than the ground without ink.</summary>
    /// <param name="wanted">The wanted colour.</param>
    public LinearRgb NoLighter(LinearRgb wanted)
    {
        var lightest = Reflectance(LinearRgb.White);
        return new(Math.Min(wanted.R, lightest.R), Math.Min(wanted.G, lightest.G), Math.Min(wanted.B, lightest.B));
    }

    /// <summary>The wanted colour, channel by channel no darker than what the surface scatters over the deepest ink.</summary>
    /// <param name="wanted">The wanted colour.</param>
    public LinearRgb NoDarker(LinearRgb wanted)
    {
        var darkest = Reflectance(new LinearRgb(0, 0, 0));
        return new(Math.Max(wanted.R, darkest.R), Math.Max(wanted.G, darkest.G), Math.Max(wanted.B, darkest.B));
    }

    /// <summary>The look of a finish on a bare ground.</summary>
    /// <param name="finish">The finish.</param>
    /// <param name="bare">Reflectance of the bare piece under clear film; not used behind glass.</param>
    /// <param name="coats">Coats of white base, matt or translucent white, at least 1; not used for show-through.</param>
    /// <exception cref="ArgumentOutOfRangeException">No such finish.</exception>
    public static PrintLook For(Finish finish, LinearRgb bare, int coats = 1) =>
        finish switch
        {
            Finish.ShowThrough => new PrintLook(bare) { IsBare = true },
            Finish.WhiteGround => new PrintLook(bare.Map(r => KubelkaMunk.OverBacking(WhiteAbsorption, WhitePowerPerCoat * coats, r))),
            Finish.VelvetMatt => new PrintLook(bare, FresnelReflectance * (1 - Math.Pow(1 - MattSharePerCoat, coats))) { IsBare = true },
            // Behind the translucent coat it may be dark: the cautious case.
            Finish.BehindGlass => new PrintLook(
                LinearRgb.Grey(KubelkaMunk.OverBacking(WhiteAbsorption, TranslucentPowerPerCoat * coats, 0)),
                0,
                WindowGlassTransmittance
            ),
            _ => throw new ArgumentOutOfRangeException(nameof(finish), finish, "No such finish."),
        };

    private double Channel(double ground, double print) =>
        SurfaceReflectance + ((1 - SurfaceReflectance) * GlassTransmittance * GlassTransmittance * ground * print);
}
