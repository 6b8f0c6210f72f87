namespace ShopFloor.Web.Counter.Entries;

/// <summary>The unit that a number without one is in.</summary>
public enum LengthUnit
{
    Millimetre,
    Inch,
}
