namespace ShopFloor.Domain.Colour;

/// <summary>The sRGB transfer function after IEC 61966-2-1:1999, between code values and light.</summary>
public static class Srgb
{
    private static readonly double[] DecodedBytes = [.. Enumerable.Range(0, 256).Select(v => Decode(v / 255.0))];

    /// <summary>Light of a code value: V/12.92 up to 0.04045, else ((V + 0.055)/1.055)^2.4.</summary>
    /// <param name="code">Code value, 0 to 1.</param>
    /// <returns>Light, 0 to 1.</returns>
    public static double Decode(double code) => code <= 0.04045 ? code / 12.92 : Math.Pow((code + 0.055) / 1.055, 2.4);

    /// <summary>Code value of a light; the inverse, with the standard's threshold 0.0031308.</summary>
    /// <param name="light">Light, 0 to 1.</param>
    /// <returns>Code value, 0 to 1.</returns>
    public static double Encode(double light) => light <= 0.0031308 ? light * 12.92 : (1.055 * Math.Pow(light, 1 / 2.4)) - 0.055;

    /// <summary>Light of an 8-bit code value.</summary>
    public static double DecodeByte(byte code) => DecodedBytes[code];

    /// <summary>Nearest 8-bit code value of a light; light outside 0 to 1 takes the end.</summary>
    public static byte EncodeByte(double light) => (byte)Math.Round(Encode(Math.Clamp(light, 0, 1)) * 255);
}
