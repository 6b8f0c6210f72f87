using System.Reflection;
using System.Xml.Linq;
using NetArchTest.Rules;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>Who may know whom. Each test was seen to fail on a planted violation, named beside it.</summary>
public sealed class DependencyTests
{
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["ShopFloor.Domain"] = [],
        ["ShopFloor.Planning"] = [],
        ["ShopFloor.Documents"] = ["ShopFloor.Domain"],
        ["ShopFloor.Data"] = ["ShopFloor.Domain"],
        ["ShopFloor.Web"] = ["ShopFloor.Data", "ShopFloor.Documents", "ShopFloor.Domain", "ShopFloor.Planning"],
        ["ShopFloor.Cli"] = ["ShopFloor.Planning"],
    };

    // Seen to fail with a reference from ShopFloor.Planning to ShopFloor.Domain.
    [Fact]
    public void Projects_References_AreTheAllowedOnes()
    {
        foreach (var project in Tree.Files("src", ".csproj"))
        {
            var name = Path.GetFileNameWithoutExtension(project);
            var references = XDocument
                .Parse(Tree.Text(project))
                .Descendants("ProjectReference")
                .Select(r => Path.GetFileNameWithoutExtension(((string?)r.Attribute("Include"))!.Replace('\\', '/')))
                .ToList();
            Assert.True(Allowed.TryGetValue(name, out var allowed), $"{name}: a new project needs a decision record and a line here.");
            Assert.All(references, r => Assert.True(allowed.Contains(r), $"{name} must not know {r}."));
        }
    }

    // Seen to fail with PackageReference CsvHelper in ShopFloor.Domain.
    [Fact]
    public void PureProjects_Packages_AreNoneButTheSolver()
    {
        foreach (var (project, allowed) in new[] { ("Domain", Array.Empty<string>()), ("Planning", ["Google.OrTools"]) })
        {
            var packages = XDocument
                .Parse(Tree.Text($"src/ShopFloor.{project}/ShopFloor.{project}.csproj"))
                .Descendants("PackageReference")
                .Where(p => (string?)p.Attribute("PrivateAssets") != "all")
                .Select(p => (string?)p.Attribute("Include") ?? "");
            Assert.Empty(packages.Except(allowed));
        }
    }

    // Seen to fail with a field of type Microsoft.EntityFrameworkCore.DbContext in a class of ShopFloor.Web.Shared.
    [Fact]
    public void SharedAndLive_Types_KnowNoDatabase()
    {
        var result = Types
            .InAssembly(typeof(Program).Assembly)
            .That()
            .ResideInNamespaceStartingWith("ShopFloor.Web.Shared")
            .Or()
            .ResideInNamespaceStartingWith("ShopFloor.Web.Live")
            .ShouldNot()
            .HaveDependencyOnAny("Microsoft.EntityFrameworkCore", "ShopFloor.Data.Records", "ShopFloor.Data.ShopContext")
            .GetResult();
        Assert.True(result.IsSuccessful, string.Join(", ", result.FailingTypeNames ?? []));
        // The rule guards something only while the names are real.
        Assert.NotNull(typeof(ShopContext).Assembly.GetType("ShopFloor.Data.ShopContext"));
    }

    // Seen to fail with Console.WriteLine in ShopFloor.Domain, the compile-time ban taken out for the try.
    [Theory]
    [InlineData(typeof(Refusal))]
    [InlineData(typeof(ShopFloor.Planning.Layout.ExactFit))]
    public void PureAssemblies_References_AreOfTheRuntimeOnly(Type anchor)
    {
        string[] banned = ["System.Net.Http", "System.Console", "System.IO.FileSystem", "Microsoft.Extensions.Logging"];
        var references = anchor.Assembly.GetReferencedAssemblies().Select(a => a.Name ?? "").ToList();
        Assert.NotEmpty(references);
        Assert.Empty(references.Intersect(banned, StringComparer.Ordinal));
        Assert.DoesNotContain(references, r => r.StartsWith("Microsoft.", StringComparison.Ordinal));
    }

    // Seen to fail with a class SharedHelpers, and with a folder Utils.
    [Fact]
    public void Names_OfTypesAndFolders_SayWhatIsInThem()
    {
        string[] bannedWords = ["Common", "Helper", "Helpers", "Util", "Utils", "Manager", "Misc"];
        var types = new[] { "Domain", "Planning", "Documents", "Data", "Web" }
            .Select(p => Assembly.Load($"ShopFloor.{p}"))
            .SelectMany(a => a.GetTypes())
            .Where(t => !t.FullName!.Contains('<', StringComparison.Ordinal))
            .Select(t => t.Name.Split('`')[0])
            .ToList();
        var folders = Tree.Files("src", ".cs", ".razor").SelectMany(f => f.Split('/')[..^1]);
        Assert.Empty(types.Concat(folders).Where(n => Array.Exists(bannedWords, w => n.EndsWith(w, StringComparison.Ordinal))).Distinct());
        Assert.DoesNotContain(types, n => n.EndsWith("Service", StringComparison.Ordinal));
    }
}
