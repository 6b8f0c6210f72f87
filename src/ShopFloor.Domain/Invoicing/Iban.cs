namespace ShopFloor.Domain.Invoicing;

/// <summary>Numbers of accounts after ISO 13616.</summary>
public static class Iban
{
    /// <summary>Two letters of the country, two check digits, 11 to 30 letters and digits; blanks between groups do not count.</summary>
    /// <returns>True when it has that form and its check digits fit (remainder 1 modulo 97, ISO 7064).</returns>
    public static bool IsSound(string text)
    {
        var plain = text.Replace(" ", "", StringComparison.Ordinal);
        if (plain.Length is < 15 or > 34 || !plain.All(c => char.IsAsciiLetterUpper(c) || char.IsAsciiDigit(c)))
            return false;
        if (!plain[..2].All(char.IsAsciiLetterUpper) || !plain[2..4].All(char.IsAsciiDigit))
            return false;
        var rest = 0;
        foreach (var c in plain[4..] + plain[..4])
            rest = (rest * (char.IsAsciiDigit(c) ? 10 : 100) + (char.IsAsciiDigit(c) ? c - '0' : c - 'A' + 10)) % 97;
        return rest == 1;
    }
}
