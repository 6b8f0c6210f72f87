namespace ShopFloor.Web.Counter.Intake;

/// <summary>Covers personal data so that its owner still knows it and a stranger does not.</summary>
public static class Covered
{
    /// <summary>First and last two characters stay; short texts are covered whole.</summary>
    public static string Of(string text) => text.Length <= 6 ? "••••" : $"{text[..2]}••••{text[^2..]}";
}
