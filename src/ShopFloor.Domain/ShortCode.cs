namespace ShopFloor.Domain;

/// <summary>
/// The short code that people read, type and scan: five characters and a check character. The alphabet has 31 signs (digits and
/// letters without I, L, O, U and Z), a prime number, so the weighted check finds every single wrong character and every swap of two.
/// </summary>
public static class ShortCode
{
    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXY";
    private const int DataLength = 5;
    private const long Space = 31L * 31 * 31 * 31 * 31;

    /// <summary>Spreads neighbouring numbers apart; shares no factor with 31, so that no two numbers meet.</summary>
    private const long Spread = 8_191_819;

    /// <summary>Characters of a whole code, check character included.</summary>
    public const int TotalLength = DataLength + 1;

    /// <summary>The code of a counter's number.</summary>
    /// <param name="number">From 0 to 28,629,150; each has a code of its own.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside that range.</exception>
    public static string FromNumber(long number)
    {
        if (number is < 0 or >= Space)
            throw new ArgumentOutOfRangeException(nameof(number), number, "The codes are used up.");
        var rest = number * Spread % Space;
        Span<char> code = stackalloc char[TotalLength];
        for (var i = DataLength - 1; i >= 0; i--, rest /= 31)
            code[i] = Alphabet[(int)(rest % 31)];
        code[DataLength] = Alphabet[Check(code[..DataLength])];
        return new string(code);
    }

    /// <summary>Reads what a person typed or a scanner sent: any case, blanks and dashes ignored, o read as 0, i and l as 1, z as 2.</summary>
    /// <returns>The code in its one written form, or a refusal that says what is wrong.</returns>
    public static Result<string> Read(string? typed)
    {
        var code = new string([.. (typed ?? "").ToUpperInvariant().Where(c => c is not (' ' or '-')).Select(Alike)]);
        if (code.Length == 0)
            return new Refusal("code-missing", "Scan or type the code on the label.", "code");
        if (code.Length != TotalLength || code.Any(c => !Alphabet.Contains(c, StringComparison.Ordinal)))
            return new Refusal("code-unreadable", "A code has six letters and digits, for example 4KT9XM.", "code");
        return Alphabet[Check(code.AsSpan(0, DataLength))] == code[DataLength]
            ? code
            : new Refusal("code-mistyped", "One character of this code is wrong. Please read it once more.", "code");
    }

    private static char Alike(char c) =>
        c switch
        {
            'O' => '0',
            'I' or 'L' => '1',
            'Z' => '2',
            'U' => 'V',
            _ => c,
        };

    private static int Check(ReadOnlySpan<char> data)
    {
        var sum = 0;
        for (var i = 0; i < data.Length; i++)
            sum += (i + 2) * Alphabet.IndexOf(data[i], StringComparison.Ordinal);
        return (31 - sum % 31) % 31;
    }
}
