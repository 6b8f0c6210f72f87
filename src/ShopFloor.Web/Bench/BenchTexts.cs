namespace ShopFloor.Web.Bench;

/// <summary>
/// Marks the texts of Bench and Wall. The English sentence itself is the key; a further language is a file <c>BenchTexts.xx.resx</c> beside
/// this one. Keys with places also turn sentences that the program has filled in already; see <see cref="Spoken"/>.
/// </summary>
public sealed class BenchTexts;
