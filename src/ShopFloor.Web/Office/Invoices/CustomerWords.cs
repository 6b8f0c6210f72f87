using System.Resources;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Counter;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What the Counter calls things to its customers, for the papers that go to them.</summary>
internal static class CustomerWords
{
    private static readonly ResourceManager Said = new(typeof(CounterTexts));

    /// <summary>A material in the reader's language; one that the owner named, as the owner calls it.</summary>
    public static string Material(MaterialSheet material, LetterReader reader) =>
        Said.GetResourceSet(reader.Culture, createIfNotExists: true, tryParents: false)?.GetString(material.Name) ?? material.Name;
}
