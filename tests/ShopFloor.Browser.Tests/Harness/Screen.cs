namespace ShopFloor.Browser.Tests.Harness;

/// <summary>The sizes of the devices the pages are made for, in CSS pixels.</summary>
public sealed record Screen(string Name, int Width, int Height, bool Touch)
{
    public static Screen TabletUpright { get; } = new("tablet-upright", 768, 1024, true);
    public static Screen Tablet { get; } = new("tablet", 1024, 768, true);
    public static Screen Phone { get; } = new("phone", 390, 844, true);
    public static Screen Wall { get; } = new("wall", 1920, 1080, false);
    public static Screen Desk { get; } = new("desk", 1366, 860, false);

    public static IReadOnlyList<Screen> All { get; } = [TabletUpright, Tablet, Phone, Wall, Desk];
}
