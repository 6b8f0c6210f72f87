namespace ShopFloor.Web.Shared.Look;

/// <summary>The lines of each sign: SVG path data on a grid of 24, drawn with a stroke of 2 and no fill.</summary>
public static class GlyphLines
{
    private const string Dot = "h.01";

    private static readonly Dictionary<Glyph, string> Lines = new()
    {
        [Glyph.Add] = "M12 5v14M5 12h14",
        [Glyph.ArrowDown] = "M12 4v16M6 14l6 6 6-6",
        [Glyph.ArrowLeft] = "M20 12H4M10 6l-6 6 6 6",
        [Glyph.ArrowRight] = "M4 12h16M14 6l6 6-6 6",
        [Glyph.ArrowUp] = "M12 20V4M6 10l6-6 6 6",
        [Glyph.Bench] = "M3 9h18M5 9v11M19 9v11M5 15h14M9 9V5h6v4",
        [Glyph.Box] = "M4 8l8-4 8 4v9l-8 4-8-4zM4 8l8 4 8-4M12 12v9",
        [Glyph.Calendar] = "M4 6h16v14H4zM4 10h16M8 3v4M16 3v4",
        [Glyph.Camera] = "M3 8h4l2-3h6l2 3h4v11H3zM12 10a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7",
        [Glyph.Can] = "M8 9h8v12H8zM8 9c0-2 1.5-2 2-3h4c.5 1 2 1 2 3M11 6V3h3M18 3h2M18 6l2 1M8 14h8",
        [Glyph.Chart] = "M4 4v16h16M8 16v-4M12 16V8M16 16v-6",
        [Glyph.Clock] = "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18M12 7v5l3.5 2",
        [Glyph.Coins] = "M9 5a5 5 0 1 0 0 10 5 5 0 0 0 0-10M15.5 9.5a5 5 0 1 1-5 7.5",
        [Glyph.Counter] = "M3 12h18M5 12v8h14v-8M8 12V6h8v6M11 9h2",
        [Glyph.Cross] = "M6 6l12 12M18 6L6 18",
        [Glyph.Customer] = "M12 4a4 4 0 1 0 0 8 4 4 0 0 0 0-8M4 20c1-4 4-5 8-5s7 1 8 5",
        [Glyph.Drop] = "M12 3c4 5 6 7.5 6 11a6 6 0 0 1-12 0c0-3.5 2-6 6-11",
        [Glyph.Edit] = "M4 20l1-4L16 5l3 3L8 19zM14 7l3 3",
        [Glyph.Exclaim] = "M12 3l10 18H2zM12 10v5M12 18" + Dot,
        [Glyph.Finger] = "M9 11V5a2 2 0 0 1 4 0v6l5 1.5c1 .5 1.5 1.5 1 3L17.5 21H10l-4-6c-.8-1.5.8-2.8 2-1.8z",
        [Glyph.Flame] = "M12 3c1 4 5 5 5 10a5 5 0 0 1-10 0c0-2 1-3 2-4 .3 1.5 1 2 1.5 2 0-3-.5-5 1.5-8",
        [Glyph.Gear] = "M4 7h9M17 7h3M15 5v4M4 17h3M11 17h9M9 15v4",
        [Glyph.Hand] = "M7 12V6a1.5 1.5 0 0 1 3 0v5V4.5a1.5 1.5 0 0 1 3 0V11V6a1.5 1.5 0 0 1 3 0v9c0 4-2 6-5 6-4 0-6-3-7.5-7",
        [Glyph.Hold] = "M8 5v14M16 5v14",
        [Glyph.Home] = "M3 11l9-7 9 7M6 9v11h12V9",
        [Glyph.Image] = "M4 5h16v14H4zM4 16l5-5 4 4 3-3 4 4M15.5 8.5" + Dot,
        [Glyph.Invoice] = "M6 3h12v18l-3-2-3 2-3-2-3 2zM9 8h6M9 12h6",
        [Glyph.Link] = "M10 14a4 4 0 0 0 6 0l3-3a4 4 0 0 0-6-6l-1 1M14 10a4 4 0 0 0-6 0l-3 3a4 4 0 0 0 6 6l1-1",
        [Glyph.List] = "M9 6h11M9 12h11M9 18h11M4 6" + Dot + "M4 12" + Dot + "M4 18" + Dot,
        [Glyph.Lock] = "M5 11h14v10H5zM8 11V7a4 4 0 0 1 8 0v4",
        [Glyph.Menu] = "M4 7h16M4 12h16M4 17h16",
        [Glyph.Minus] = "M5 12h14",
        [Glyph.Moon] = "M20 14.5A8.5 8.5 0 0 1 9.5 4a8.5 8.5 0 1 0 10.5 10.5",
        [Glyph.Office] = "M3 8h18v12H3zM9 8V4h6v4M3 13h18M12 12v2",
        [Glyph.Order] = "M6 4h12v17H6zM9 4V2.5h6V4M9 10h6M9 14h6M9 18h3",
        [Glyph.Oven] = "M4 3h16v18H4zM4 8h16M8 5.5" + Dot + "M12 5.5" + Dot + "M7 12h10v5H7z",
        [Glyph.Piece] = "M5 4h14v16H5zM8 7h8v10H8z",
        [Glyph.Play] = "M7 4l13 8-13 8z",
        [Glyph.Press] = "M4 20h16M6 16h12M7 9h10v3H7zM12 9V4M8 4h8",
        [Glyph.Print] = "M7 9V3h10v6M7 17H4V9h16v8h-3M7 14h10v7H7z",
        [Glyph.Question] = "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18M9.5 9.5a2.5 2.5 0 1 1 3.5 2.3c-.7.4-1 .8-1 1.7M12 16.8" + Dot,
        [Glyph.Rack] = "M4 3v18M20 3v18M4 7h16M4 13h16M4 19h16",
        [Glyph.Recipe] = "M5 4h10l4 4v12H5zM15 4v4h4M8 12h3M8 16h8M13 12h3",
        [Glyph.Save] = "M5 4h11l3 3v13H5zM8 4v5h7V4M8 20v-6h8v6",
        [Glyph.Scan] = "M4 8V4h4M16 4h4v4M20 16v4h-4M8 20H4v-4M8 9v6M12 9v6M16 9v6",
        [Glyph.Screen] = "M3 4h18v12H3zM9 20h6M12 16v4",
        [Glyph.Search] = "M10.5 4a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13M15.5 15.5L21 21",
        [Glyph.SignOut] = "M14 4H5v16h9M10 12h11M17 8l4 4-4 4",
        [Glyph.Sound] = "M4 9h4l5-5v16l-5-5H4zM17 8c1.5 2 1.5 6 0 8M19.5 5.5c3 4 3 9 0 13",
        [Glyph.SoundOff] = "M4 9h4l5-5v16l-5-5H4zM17 9l5 6M22 9l-5 6",
        [Glyph.Station] = "M3 20V9l5 4V9l5 4V9l5 4V4h3v16z",
        [Glyph.Stop] = "M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 8v5M12 16" + Dot,
        [Glyph.Sun] = "M12 8a4 4 0 1 0 0 8 4 4 0 0 0 0-8M12 2v3M12 19v3M2 12h3M19 12h3M5 5l2 2M17 17l2 2M19 5l-2 2M7 17l-2 2",
        [Glyph.Tick] = "M4 12.5l5.5 5.5L20 7",
        [Glyph.Trash] = "M4 7h16M9 7V4h6v3M6 7l1 14h10l1-14M10 11v6M14 11v6",
        [Glyph.Undo] = "M9 5L4 10l5 5M4 10h10a6 6 0 0 1 0 12h-3",
        [Glyph.Upload] = "M12 16V4M7 9l5-5 5 5M4 16v4h16v-4",
        [Glyph.Wall] = "M3 4h18v12H3zM6 8h7M6 12h5M16 8v4M12 16v4M8 20h8",
    };

    /// <summary>Path data of a sign, empty for <see cref="Glyph.None"/>.</summary>
    public static string Of(Glyph glyph) => Lines.GetValueOrDefault(glyph, "");
}
